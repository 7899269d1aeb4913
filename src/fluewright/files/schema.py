"""JSON Schema of a survey file, from the same forms that read it."""

from __future__ import annotations

import json

from fluewright.files.build import record_of
from fluewright.files.forms import Defs
from fluewright.files.read import VERSION
from fluewright.survey import Survey


def survey_schema() -> dict[str, object]:
    """JSON Schema (draft 2020-12) of a survey file.

    It says less than the reader: names that must agree, the order of pieces, units and ranges
    are for the reader alone.
    """
    defs: Defs = {
        "not_measured": {
            "type": "string",
            "pattern": r"^\s*\?",
            "description": "not known, and why: ? behind the drywall",
        }
    }
    record_of(Survey).schema(defs)
    top = defs.pop("survey")
    properties = top["properties"]
    required = top["required"]
    assert isinstance(properties, dict)
    assert isinstance(required, list)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:fluewright:survey:{VERSION}",
        "title": "Survey of a gas appliance and its vent",
        **top,
        "required": ["survey", *required],
        "properties": {"survey": {"const": VERSION}, **properties},
        "$defs": defs,
    }


def schema_text() -> str:
    """The schema as the text of its file."""
    return json.dumps(survey_schema(), indent=1, ensure_ascii=False) + "\n"
