"""The JSON Schema of the layout file, for editors to complete and check it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from mockup import films, finishes, hardware, knobs
from mockup.decal.processes import PROCESSES
from mockup.enclosure.sizes import SIZES
from mockup.layout.fields import LENGTH_SCHEMAS
from mockup.layout.schema import NO_KNOB, LayoutFile
from mockup.model.finish import Film, Process, Sheen


class _Plain(GenerateJsonSchema):
    """JSON Schema as a person would write it: keys that may be left out, never null."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        if schema.get("default", ...) is None:
            return self.generate_inner(schema["schema"])
        return super().default_schema(schema)


def _tidied(node: Any) -> Any:
    """Return a schema without the titles that repeat a key's name, each length a reference to its sort."""
    if isinstance(node, list):
        return [_tidied(each) for each in node]
    if not isinstance(node, dict):
        return node
    tidy = {key: _tidied(each) for key, each in node.items() if not (key == "title" and isinstance(each, str))}
    for name, sort in LENGTH_SCHEMAS.items():
        if tidy.get("anyOf") == sort["anyOf"]:
            return {"$ref": f"#/$defs/{name}", **{key: each for key, each in tidy.items() if key != "anyOf"}}
    return tidy


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the layout file, for editors to complete and check it.

    Sizes, sheens, films and knob styles are closed lists; for a part's kind the table's kinds are offered and any
    other name is let through, since it may be a kind of the builder's own.
    """
    schema = _tidied(LayoutFile.model_json_schema(schema_generator=_Plain))
    tables = schema["$defs"]
    tables.update(LENGTH_SCHEMAS)
    tables["BoxKeys"]["properties"]["size"]["enum"] = list(SIZES)
    tables["BoxTable"]["properties"]["size"]["enum"] = list(SIZES)
    _offer(tables["FinishTable"]["properties"]["sheen"], finishes.sheens())
    coat = tables["FinishTable"]["properties"]["clear_coat"]
    coat["anyOf"] = [{"type": "boolean"}, {"enum": list(finishes.lacquers())}]
    _offer(tables["DecalTable"]["properties"]["film"], films.films())
    _offer(tables["DecalTable"]["properties"]["process"], PROCESSES)
    tables["KnobTable"]["properties"]["style"]["enum"] = [*knobs.styles(), NO_KNOB]
    for table in ("PartTable", "PartChange"):
        kind = tables[table]["properties"]["kind"]
        kind["anyOf"] = [{"enum": list(hardware.kinds())}, {"type": kind.pop("type")}]
    return {"$schema": GenerateJsonSchema.schema_dialect, **schema, "title": "Layout of an effects pedal"}


def _offer(key: dict[str, Any], choices: Mapping[str, Sheen | Film | Process]) -> None:
    """Make a key of the schema a closed list, and its help say what each choice is."""
    key["enum"] = list(choices)
    key["description"] += ". " + "; ".join(f"{name}: {each.about}" for name, each in choices.items())
