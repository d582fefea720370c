"""Puts a brief into inches, by what the schema and the written reference say of units: no code of the reader's."""
import json
import pathlib
import re

MM_PER_INCH = 25.4  # by definition: NIST Special Publication 811, appendix B.8
SOURCE = pathlib.Path(__file__).resolve().parents[2]
SCHEMA = json.loads((SOURCE / "configs" / "trammel.schema.json").read_text(encoding="utf-8"))
NEVER = {"bead_seat"}  # as the reference says of units


def units_of_table(heading):
    """First column to that of units, of a table of docs/brief.md."""
    part = (SOURCE / "docs" / "brief.md").read_text(encoding="utf-8").split(f"\n## {heading}\n")[1].split("\n## ")[0]
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in part.splitlines() if line.startswith("|")]
    at = rows[0].index("unit")
    return {row[0].strip("`"): row for row in rows[2:]}, at


CURVES, CURVE_UNIT = units_of_table("Curves")
MEASURES, MEASURE_UNIT = units_of_table("Measures")


def unit_of_target(target):
    curve = target.get("curve")
    measure = MEASURES.get(target.get("measure"))
    if curve is None and measure is not None:
        curve = re.search(r"`(\w+)`", measure[1]).group(1)
    own = CURVES[curve][CURVE_UNIT]
    return own, own if measure is None or measure[MEASURE_UNIT] == "the curve's" else measure[MEASURE_UNIT]


def is_step(schema):
    """[fraction, value]: a pair whose first is a share."""
    items = schema.get("items")
    return isinstance(items, list) and items[0] != items[1] and items[0].get("maximum") == 1


def scaled(value, schema):
    if isinstance(value, list):
        return [v if i == 0 and is_step(schema) else scaled(v, {}) for i, v in enumerate(value)]
    return value / MM_PER_INCH if isinstance(value, (int, float)) and not isinstance(value, bool) else value


def walk(value, schema, key="", target=None):
    words = schema.get("description", "")
    if key in NEVER:
        return value
    if words.endswith("Unit: mm.") or "Unit: mm. Default" in words:
        return scaled(value, schema)
    if "Unit: the curve's." in words and target is not None:
        own, unit = unit_of_target(target)
        return scaled(value, schema) if (own if key == "crosses" else unit) == "mm" else value
    for one in schema.get("anyOf", []):  # a word or something else
        if one.get("type") in ("array", "object") or "properties" in one or "items" in one:
            schema = {**schema, **one}
    if isinstance(value, dict):
        inner, more = schema.get("properties", {}), schema.get("additionalProperties", {})
        about = value if "must" in inner else target
        return {k: walk(v, inner.get(k, more if isinstance(more, dict) else {}), k, about) for k, v in value.items()}
    if isinstance(value, list) and isinstance(schema.get("items"), dict):
        return [walk(v, schema["items"], key, target) for v in value]
    return value


def in_inches(tree):
    return {"trammel": tree["trammel"], "units": "inch", **walk(tree, SCHEMA)}
