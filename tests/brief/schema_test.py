"""Holds the JSON Schema against the reader: over the corpus, and over every small change of the sound files.

    schema_test.py SOURCE_FOLDER TRAMMEL_BRIEF_DOCS

The oracle is python3-jsonschema. YAML is read by the core schema of YAML 1.2 (section 10.3.2 of its specification), as
editors do, not by PyYAML's own YAML 1.1. What the reader refuses and the schema cannot is listed in BEYOND_SCHEMA;
whatever the schema refuses, the reader must refuse.
"""

import copy
import json
import pathlib
import re
import subprocess
import sys
import tempfile

import jsonschema
import yaml

from in_inches import in_inches

# How the reader's problems read when no schema on parsed values could find them. The written reference lists them too.
BEYOND_SCHEMA = [
    # the linkage as a mechanism
    "needs exactly one degree of freedom",
    # how the YAML is written
    "leading zero", "is not a decimal number", "is not a finite number", "beyond what a double-precision number holds",
    "given twice, on line", "tag '",
    # numbers that must fit each other
    "is a share, from", "must be below the second", "must be below the length", "apart; move an eye", "spans more than 360",
    "ahead of the rear axle", "more than the whole bike's", "must be above the one before", "must cover the stretch",
    "but the travel is", "needs two places", "so nothing varies", "this size was given before",
    "a spread needs two gears",
    # names that must fit each other
    # a picture
    "pixels apart", "look for a slip", "at least 1 pixel apart", "a line has two", "within the error of reading",
    "from the bottom bracket; at most",
    "no point is named", "no member is named", "no member carries this point", "the frame is held still", "lists one point",
    "but it does not list the point", "carries both eyes", "must run through two points", "so it cannot slide",
    "cannot be placed from itself", "but it is itself placed from", "its own mirror image", "the shock's eyes are", "the layout has no shock",
    "nothing holds the shock's length", "both eyes stay as drawn", "but the drivetrain's gears are",
    "and the layout has none", "and the layout is driven without one", "has no reach and stack",
    # springs, set-up, loads and the chain's rules
    "the shaft must be thinner than the bore", "must lie within the stroke", "which leaves no room for the air",
    "the measured spring", "set_up needs", "but the spring is none of the kind", "must lie between the axles",
    "load cases need a shock", "a landing load needs", "a gear needs a drivetrain", "needs a drivetrain",
    "no load case is named", "no two parts turn on each other there",
    # bodies and lengths
    "no body is named so", "no distance from itself", "goes with to: all_others", "leaves no other body",
    "must not be above the greatest", "no direction to draw by",
    "they go with a word for the usual sizes", "no usual size is within", "no step of it lies between",
    # settings and sizes
    "another setting or size has that name", "stands for every setting and size", "no setting or size is named",
    "the brief has no settings and sizes", "a rider needs bike.mass",
    "but the drivetrain has no idler", "but the layout has no drivetrain", "has several on the bike", "is not there; give a CSV file",
    # linkage templates
    "no linkage template is named", "linkage template", "linkages need choose.shock",
    "no point of any linkage is named", "the idler is a linkage template's own", "stand level", "is not a finite length", "on this bike",
    "another target has that name", "no target has that name", "two or three groups", "in this trade-off already",
    # tolerances
    "needs tolerances, and the brief has none",
    # members that keep their shape, eyes on a grid
    "keeps its shape, so that only one", "goes with a member that keeps its shape", "eye_error goes with grid",
    "eye_error is of an eye",
    # differences between settings and sizes
    "a setting is compared with a setting", "a difference is between two", "but what is compared are the",
    "what is compared is one number", "a difference is told by no layout", "to compare all write", "compares settings or sizes",
    # targets told by a layout
    "a layout's file beside the brief", "no layout is drawn", "and the target looks beyond",
    "is about one gear", "is a band of its own", "at one place or for a measure",
    "not with the layout as drawn", "one number, found", "is a found_curve", "give curve: rearward",
    # what set-up finds
    "and the spring is another", "but the spring takes", "needs set_up.most_spacers",
]


class CoreLoader(yaml.CSafeLoader):
    """YAML 1.2, core schema."""


CoreLoader.yaml_implicit_resolvers = {}
for tag, pattern in [
    ("null", r"^(?:~|null|Null|NULL|)$"),
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$"),
    ("int", r"^(?:[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+)$"),
    ("float", r"^(?:[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN))$"),
]:
    CoreLoader.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), None)


def construct_int(loader, node):
    text = loader.construct_scalar(node)
    return int(text, {"0o": 8, "0x": 16}.get(text[:2], 10))


def construct_float(loader, node):
    text = loader.construct_scalar(node).lower()
    return float(text.replace(".inf", "inf").replace(".nan", "nan"))


def construct_map(loader, node):
    """Keys as text, as in JSON; the last of two equal keys wins."""
    return {key.value: loader.construct_object(value, deep=True) for key, value in node.value}


CoreLoader.add_constructor("tag:yaml.org,2002:int", construct_int)
CoreLoader.add_constructor("tag:yaml.org,2002:float", construct_float)
CoreLoader.add_constructor("tag:yaml.org,2002:map", construct_map)


class Reader:
    """Runs the reader over texts, many in one go."""

    def __init__(self, program):
        self.program = program

    def problems(self, texts):
        with tempfile.TemporaryDirectory() as folder:
            paths = [pathlib.Path(folder) / f"{i}.yaml" for i in range(len(texts))]
            for path, text in zip(paths, texts):
                path.write_text(text, encoding="utf-8")
            found = []
            for start in range(0, len(paths), 200):
                some = [str(path) for path in paths[start:start + 200]]
                lines = subprocess.run([self.program, "check", *some], capture_output=True, text=True, check=False,
                                       encoding="utf-8").stdout.splitlines()
                by_path = {path: [] for path in some}
                for line in lines:
                    path, _, rest = line.partition(": " if line.endswith(": ok") else ":")
                    by_path[path].append(rest)
                found += list(by_path.values())
            assert all(found), "the reader said nothing about a file"
            return [[] if said == ["ok"] else said for said in found]


seen_phrases = set()


def beyond_schema(problems):
    found = [{phrase for phrase in BEYOND_SCHEMA if phrase in problem} for problem in problems]
    seen_phrases.update(*found)
    return all(found)


def changes(value, path=()):
    """Every copy of a tree with one place changed, with a word for the change."""
    strange = [None, True, "word", "Yes", 0, -1, 1.5, 4000, 1e9, [], [1, 2], [2, 1], ["a", "a"], {}, {"x": 1}]

    def at(container, key):
        here = container[key]
        for other in strange:
            yield f"{path + (key,)} = {other!r}", other
        for words, inner in changes(here, path + (key,)):
            yield words, inner

    if isinstance(value, dict):
        for key in value:
            less = {k: v for k, v in value.items() if k != key}
            yield f"without {path + (key,)}", less
            yield f"{path + (key,)} misspelt", {(k + "x" if k == key else k): v for k, v in value.items()}
            for words, other in at(value, key):
                yield words, {**value, key: other}
        yield f"{path} with more", {**value, "extra": 1}
    elif isinstance(value, list):
        for i in range(len(value)):
            yield f"without {path + (i,)}", value[:i] + value[i + 1:]
            yield f"{path + (i,)} twice", value[:i] + [value[i]] + value[i:]
            for words, other in at(value, i):
                yield words, value[:i] + [other] + value[i + 1:]


def check_corpus(source, schema, reader):
    folder = source / "tests/brief/corpus"
    bases = {"brief": folder / "brief.yaml", "linkages": folder / "linkages.yaml", "layout": source / "configs/layouts/single-pivot.yaml"}
    failures = []
    cases = json.loads((folder / "cases.json").read_text(encoding="utf-8"))
    texts = []
    for case in cases:
        text = bases[case["base"]].read_text(encoding="utf-8")
        for old, new in case["edits"]:
            assert old in text, case["name"]
            text = text.replace(old, new, 1)
        texts.append(text)
    for case, text, problems in zip(cases, texts, reader.problems(texts)):
        accepts = schema.is_valid(yaml.load(text, CoreLoader))
        if case.get("accepted", False) != (not problems):
            failures.append(f"{case['name']}: the reader is of another mind: {problems}")
        if accepts != (case.get("accepted", False) or case["schema"] == "accepts"):
            failures.append(f"{case['name']}: the schema {'accepts' if accepts else 'refuses'} it")
        if accepts and not beyond_schema(problems):
            failures.append(f"{case['name']}: not listed as beyond the schema: {problems}")
    return len(cases), failures


def check_changes(path, schema, reader, keep=None):
    whole = yaml.load(path.read_text(encoding="utf-8"), CoreLoader)
    trees = [(words, tree) for words, tree in changes(copy.deepcopy(whole))
             if keep is None or (isinstance(tree, dict) and tree.get(keep) == whole[keep])]
    texts = [yaml.dump(tree, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True) for _, tree in trees]
    # What is compared is what the file says, not what was dumped: PyYAML quotes by the rules of YAML 1.1.
    read_back = [yaml.load(text, CoreLoader) for text in texts]
    failures, counts = [], {"both accept": 0, "both refuse": 0, "beyond the schema": 0}
    for (words, _), tree, problems in zip(trees, read_back, reader.problems(texts)):
        accepts = schema.is_valid(tree)
        if accepts and not problems:
            counts["both accept"] += 1
        elif not accepts and problems:
            counts["both refuse"] += 1
        elif accepts and beyond_schema(problems):
            counts["beyond the schema"] += 1
        else:
            verdict = "accepts" if accepts else "refuses"
            failures.append(f"{path.name}: {words}: the schema {verdict} it, the reader says {problems or 'ok'}")
    return counts, failures


def main():
    source, program = pathlib.Path(sys.argv[1]), sys.argv[2]
    document, of_inches = (json.loads((source / "configs" / name).read_text(encoding="utf-8"))
                           for name in ["trammel.schema.json", "trammel-inch.schema.json"])
    for one in [document, of_inches]:
        jsonschema.Draft7Validator.check_schema(one)
    schema = jsonschema.Draft7Validator(document)
    reader = Reader(program)

    count, failures = check_corpus(source, schema, reader)
    print(f"corpus: {count} cases")
    for path in [source / "tests/brief/corpus/brief.yaml", source / "tests/brief/corpus/linkages.yaml", source / "configs/layouts/single-pivot.yaml"]:
        counts, more = check_changes(path, schema, reader)
        print(f"{path.name}: {counts}")
        failures += more
        if min(counts.values()) < 5:
            failures.append(f"{path.name}: too few changes of one kind to mean anything")
    with tempfile.TemporaryDirectory() as folder:
        twin = pathlib.Path(folder) / "in-inches.yaml"
        layout = yaml.load((source / "configs/layouts/single-pivot.yaml").read_text(encoding="utf-8"), CoreLoader)
        twin.write_text(yaml.dump(in_inches(layout), Dumper=yaml.CSafeDumper), encoding="utf-8")
        # A misspelt or missing unit makes it a file of the other schema.
        counts, more = check_changes(twin, jsonschema.Draft7Validator(of_inches), reader, keep="units")
        print(f"{twin.name}: {counts}")
        failures += more
    template = jsonschema.Draft7Validator(document["properties"]["templates"]["additionalProperties"])
    for path in sorted((source / "configs").rglob("*.yaml")):
        judge = template if path.parent.name == "linkages" else schema
        for error in judge.iter_errors(yaml.load(path.read_text(encoding="utf-8"), CoreLoader)):
            failures.append(f"{path.name} ships, but the schema says: {error.json_path}: {error.message}")
    failures += [f"listed as beyond the schema, but never met: {phrase}" for phrase in BEYOND_SCHEMA
                 if phrase not in seen_phrases]
    print("\n".join(failures[:40]))
    print(f"{len(failures)} disagreements")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
