"""Files of people and programs, in and out: the survey."""

from fluewright.files.read import (
    file_name,
    read_survey,
    survey_bytes,
    survey_from_bytes,
    survey_from_text,
    survey_sha256,
)
from fluewright.files.schema import schema_text, survey_schema
from fluewright.files.tools import default_tools
from fluewright.files.write import survey_to_data, survey_to_text, write_survey

__all__ = [
    "default_tools",
    "file_name",
    "read_survey",
    "schema_text",
    "survey_bytes",
    "survey_from_bytes",
    "survey_from_text",
    "survey_schema",
    "survey_sha256",
    "survey_to_data",
    "survey_to_text",
    "write_survey",
]
