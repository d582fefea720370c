"""Which includes break the rule that a room includes only the rooms below it.

A room is one folder with one call `room(NAME FOLDER MAY_INCLUDE A B ... USES ...)` in the top CMakeLists.txt. The
compiler refuses most forbidden includes, because a room's include path shows only the rooms that it names; this scan
also refuses the ways round that: paths that climb, and a CMakeLists.txt that allows a room something above it.
"""

import re
from dataclasses import dataclass
from pathlib import Path

SOURCE_SUFFIXES = {".cpp", ".hpp", ".cc", ".h", ".ipp", ".inl"}
ROOM_CALL = re.compile(r"^room\((\w+)\s+(\S+?)(?:\s+MAY_INCLUDE\s+([\w\s]+?))?(?:\s+USES\s+[^)]*)?\)", re.MULTILINE)
INCLUDE = re.compile(r"^\s*#\s*include\s*(.*)$")
PATH = re.compile(r'^(?:"([^"]+)"|<([^>]+)>)')


@dataclass(frozen=True)
class Room:
    name: str
    folder: Path
    may_include: tuple[str, ...]


def read_rooms(tree: Path) -> dict[str, Room]:
    """The rooms of the CMakeLists.txt in `tree`, lowest first."""
    text = (tree / "CMakeLists.txt").read_text(encoding="utf-8")
    return {
        name: Room(name, tree / folder, tuple((allowed or "").split()))
        for name, folder, allowed in ROOM_CALL.findall(text)
    }


def check_order(rooms: dict[str, Room]) -> list[str]:
    """A room may name only rooms declared before it, which keeps the graph free of cycles."""
    problems, below = [], set()
    for room in rooms.values():
        problems += [
            f"CMakeLists.txt: room {room.name} may include {other}, which is not declared before it"
            for other in room.may_include
            if other not in below
        ]
        below.add(room.name)
    return problems


def check_include(room: Room, rooms: dict[str, Room], operand: str) -> str | None:
    """What is wrong with one include of a source in `room`, or None. `operand` is what follows `#include`."""
    path = PATH.match(operand)
    if not path:
        return f"includes {operand.strip()}, which is not a literal path"
    quoted, angled = path.groups()
    name = quoted or angled
    if ".." in name.split("/") or "." in name.split("/") or name.startswith("/"):
        return f"includes {name}, a path that climbs; write it from its room"
    first = name.split("/")[0]
    if first not in rooms:
        return f"includes {name}, which names no room" if quoted else None
    if first != room.name and first not in room.may_include:
        return f"includes {name}; room {room.name} may include only {', '.join(room.may_include) or 'itself'}"
    return None


def check_sources(tree: Path, rooms: dict[str, Room]) -> list[str]:
    """One line for each forbidden include: file:line: what is wrong."""
    problems = []
    for room in rooms.values():
        for source in sorted(room.folder.rglob("*")):
            if source.suffix not in SOURCE_SUFFIXES:
                continue
            for number, line in enumerate(source.read_text(encoding="utf-8").splitlines(), 1):
                include = INCLUDE.match(line)
                problem = include and check_include(room, rooms, include[1])
                if problem:
                    problems.append(f"{source.relative_to(tree)}:{number}: {problem}")
    return problems


def check_folders(tree: Path, rooms: dict[str, Room]) -> list[str]:
    """Every folder of engine/ is a room, so that no source escapes the rule."""
    known = {room.folder for room in rooms.values()}
    return [
        f"{folder.relative_to(tree)}: not a room of CMakeLists.txt"
        for folder in sorted((tree / "engine").iterdir())
        if folder.is_dir() and folder not in known
    ]


def check_tree(tree: Path) -> list[str]:
    """Everything that breaks the rule in a source tree; empty when nothing does."""
    rooms = read_rooms(tree)
    return check_order(rooms) + check_folders(tree, rooms) + check_sources(tree, rooms)
