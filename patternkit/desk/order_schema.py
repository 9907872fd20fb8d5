"""The JSON schema of an order as data, made from the records themselves; `order.schema.json` beside this is its text.

`python -m patternkit.desk.order_schema` prints it anew.
"""

from __future__ import annotations

import typing
from typing import Any, Literal, Union, get_args, get_origin

import msgspec

from patternkit.lengths import Length
from patternkit.piecing import batch
from patternkit.piecing.batch import Piece, Thing
from patternkit.work import model

LENGTH = {"type": "string", "description": "inches, exact: 5/2, or 1/4 + 3/2 sqrt 2"}
ITEM = {"type": "string", "description": "the code of a cut piece, or the key of a sewn thing"}
COUNTED = {
    "type": "array",
    "items": {
        "type": "object",
        "required": ["item", "count"],
        "additionalProperties": False,
        "properties": {"item": ITEM, "count": {"type": "integer"}},
    },
}


def order_schema() -> dict[str, Any]:
    """The schema, as plain data."""
    defs: dict[str, Any] = {}
    actions = [_ref(kind, defs) for kind in get_args(batch.Action)]
    defs["batch"] = _object(
        times={"type": "integer"},
        uses={"type": "array", "items": _ref(batch.Use, defs)},
        passages={
            "type": "array",
            "items": _object(name={"type": "string"}, actions={"type": "array", "items": {"anyOf": actions}}),
        },
        gives={"type": "array", "items": {"type": "array"}},
        rough={"type": "boolean"},
    )
    step = _object(
        makes=ITEM,
        rehearsed={"type": "boolean"},
        takes=COUNTED,
        gives=COUNTED,
        leaves=COUNTED,
        batches={"type": "array", "items": {"$ref": "#/$defs/batch"}},
        remedies={"type": "array", "items": _ref(model.Mend, defs)},
        prints={"type": "array", "items": _ref(model.PrintBatches, defs)},
    )
    thing = _object(title={"type": "string"}, width=LENGTH, height=LENGTH)
    gap = _object(kind={"type": "string"}, step={"type": ["integer", "null"]}, text={"type": "string"})
    whole = _object(
        version={"const": 1},
        pattern={"type": "string"},
        size={"type": "string"},
        colourway={"type": "string"},
        seam=LENGTH,
        ruler=LENGTH,
        pieces={"type": "object", "additionalProperties": _ref(Piece, defs)},
        things={"type": "object", "additionalProperties": thing},
        cutting={"type": "array", "items": {"anyOf": [_ref(kind, defs) for kind in get_args(model.Cutting)]}},
        steps={"type": "array", "items": step},
        finish={"type": "array", "items": {"anyOf": [_ref(kind, defs) for kind in get_args(model.Finish)]}},
        runs={"type": "array", "items": _ref(model.Run, defs)},
        top={"anyOf": [ITEM, {"type": "null"}]},
        bought={"type": "object", "additionalProperties": LENGTH},
        gaps={"type": "array", "items": gap},
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Making order", **whole, "$defs": defs}


def _object(**properties: Any) -> dict[str, Any]:
    return {
        "type": "object",
        "required": list(properties),
        "additionalProperties": False,
        "properties": properties,
    }


def _ref(kind: Any, defs: dict[str, Any]) -> dict[str, str]:
    """A record by reference; its definition is added where it is new."""
    name = kind.__name__
    if name not in defs:
        defs[name] = {}
        hints = typing.get_type_hints(kind)
        properties = {field: _schema(hints[field], defs) for field in kind.__struct_fields__}
        if kind.__struct_config__.tag:
            properties = {"type": {"const": kind.__struct_config__.tag}, **properties}
        defs[name] = _object(**properties)
    return {"$ref": f"#/$defs/{name}"}


def _schema(kind: Any, defs: dict[str, Any]) -> dict[str, Any]:
    """What a field holds, as plain data."""
    origin, inner = get_origin(kind), get_args(kind)
    if kind in (Length, batch.Item):
        return dict(LENGTH if kind is Length else ITEM)
    if kind is Thing:
        return dict(ITEM)
    if kind is Piece:  # one that no step takes has no code, and is spelt out
        return {"anyOf": [ITEM, _ref(Piece, defs)]}
    if origin is Literal:
        return {"enum": list(inner)}
    if origin is Union or type(kind).__name__ == "UnionType":
        return {"anyOf": [_schema(x, defs) for x in inner]}
    if origin is tuple:
        if len(inner) == 2 and inner[1] is Ellipsis:
            return {"type": "array", "items": _schema(inner[0], defs)}
        return {"type": "array", "prefixItems": [_schema(x, defs) for x in inner], "items": False}
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
        return dict(_ref(kind, defs))
    return {"type": {bool: "boolean", int: "integer", str: "string", type(None): "null"}[kind]}


if __name__ == "__main__":
    print(msgspec.json.format(msgspec.json.encode(order_schema()), indent=2).decode())
