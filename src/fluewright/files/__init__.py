"""Files of people and programs, in and out: the survey.

Reading stands here; writing is in `write`, the JSON Schema in `schema`.
"""

from fluewright.files.read import (
    file_name,
    read_survey,
    survey_bytes,
    survey_from_bytes,
    survey_from_text,
    survey_sha256,
)

__all__ = [
    "file_name",
    "read_survey",
    "survey_bytes",
    "survey_from_bytes",
    "survey_from_text",
    "survey_sha256",
]
