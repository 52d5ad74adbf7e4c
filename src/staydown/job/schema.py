"""The JSON Schema of job.toml, made from the records; shipped as library/job.schema.json for editors and scripts.

A schema sees form, not sense: units, ids of cards and contradictions are for the reader.
"""

from __future__ import annotations

import json
from typing import Any

from staydown.foundation.refusals import example_of, need_of
from staydown.foundation.unit_names import FRACTIONS
from staydown.job.records import PlanningOverride, Record
from staydown.job.shape import FieldShape, fields_of, tables

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_Schema = dict[str, Any]
_UNKNOWN: _Schema = {"const": "unknown"}
_DIGIT = f"[0-9{''.join(FRACTIONS)}]"
_DESCRIPTIONS = {
    "load": "a force, a mass, or a volume of water: 1.8 kN, 25 lb, 12 L water",
    "area": "an area or a rectangle: 6 cm^2, 25 mm x 25 mm",
    "rectangle": "along the vehicle x across it: 80 mm x 50 mm",
    "fastener": "a screw or a strength: M6 A2-70, 1.8 kN",
    "hours": "hours, such as 250 h or 250",
}


def job_schema() -> _Schema:
    """Return the schema of format 1 as plain dicts."""
    records = {record for record, _ in tables().values()}
    return {
        "$schema": DIALECT,
        "title": "staydown job, format 1",
        **_record_schema(tables()[()][0]),
        "$defs": {
            record.__name__: _record_schema(record)
            for record in sorted(records, key=lambda one: one.__name__)
            if record is not tables()[()][0]
        }
        | {"planning": _planning_schema()},
    }


def schema_text() -> str:
    """Return the schema as the text of the shipped file."""
    return json.dumps(job_schema(), indent=1, ensure_ascii=False) + "\n"


def _record_schema(record: type[Record]) -> _Schema:
    fields = fields_of(record)
    return {
        "description": (record.__doc__ or "").split("\n")[0],
        "type": "object",
        "properties": {field.key: _field_schema(field) for field in fields},
        "required": [field.key for field in fields if field.required],
        "additionalProperties": False,
    }


def _field_schema(field: FieldShape) -> _Schema:
    schema = _value_schema(field)
    if field.may_be_unknown and "enum" in schema:
        return {"enum": [*schema["enum"], "unknown"]}
    return {"anyOf": [schema, _UNKNOWN]} if field.may_be_unknown else schema


def _value_schema(field: FieldShape) -> _Schema:
    text = {"type": "string", "pattern": _DIGIT}
    match field.kind:
        case "number" if field.suffix:
            return text | {"description": f"{need_of(field.suffix)}, such as {example_of(field.suffix)}"}
        case "number":
            limits = field.limits
            least = {"exclusiveMinimum" if limits.open_below else "minimum": limits.least}
            bounds = (least if limits.least is not None else {}) | (
                {"maximum": limits.most} if limits.most is not None else {}
            )
            return {"anyOf": [{"type": "number"} | bounds, text]}
        case "hours":
            return {"anyOf": [{"type": "number"}, text], "description": _DESCRIPTIONS[field.kind]}
        case "load" | "area" | "rectangle" | "fastener":
            return text | {"description": _DESCRIPTIONS[field.kind]}
        case "choice":
            return {"enum": list(field.choices)}
        case "choices":
            return {"type": "array", "items": {"enum": list(field.choices)}, "minItems": 1}
        case "flag":
            return {"type": "boolean"}
        case "text":
            return {"type": "string", "minLength": 1} | (
                {"description": f"id of a card: {field.shelf}"} if field.shelf else {}
            )
        case "planning":
            return {"$ref": "#/$defs/planning"}
        case "record" | "records":
            assert field.record is not None
            one = {"$ref": f"#/$defs/{field.record.__name__}"}
            return one if field.kind == "record" else {"type": "array", "items": one}


def _planning_schema() -> _Schema:
    """Return the schema of [planning]: by id a value or a band; ids with dots may be nested tables."""
    end: _Schema = {"type": ["number", "string"]}
    ends = [name for name in PlanningOverride.model_fields if name != "source"]
    band = {
        "type": "object",
        "properties": dict.fromkeys(ends, end) | {"source": {"type": "string", "minLength": 1}},
        "required": ends,
        "additionalProperties": False,
    }
    return {
        "description": "planning values replaced, by the id of their card, in the card's unit",
        "type": "object",
        "additionalProperties": {"anyOf": [end, band, {"$ref": "#/$defs/planning"}]},
    }
