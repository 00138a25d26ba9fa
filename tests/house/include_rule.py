"""Fails on an include in src/ that breaks the floors of the house (docs/architecture.md).

A file includes from its own folder and from the floors below, never upward and never sideways; the two skins see only
nursery and base. The floors that hold the science know no disk, clock, network or thread, and a few libraries may be
used in one place only.

usage: include_rule.py SOURCE_FOLDER      prints file:line of every broken rule
       include_rule.py --self-test        plants bad includes and checks that each is found
"""
import pathlib
import re
import sys
import tempfile

FLOORS = [
    ["base"],
    ["climate", "evidence"],
    ["growth", "shelter", "mix"],
    ["season", "care", "daybook"],
    ["store", "print"],
    ["nursery"],
    ["cli", "server"],
]
FLOOR_OF = {folder: floor for floor, folders in enumerate(FLOORS) for folder in folders}
SKINS_SEE = {"nursery", "base"}
HIGHEST_PURE_FLOOR = 3

# Where only some folders (or one file) may use a library: the beginning of the include, then who.
LIBRARY_USERS = {
    "CLI/": {"cli/main.cpp"},
    "toml++/": {"nursery"},
    "date/": {"nursery"},
    "nlohmann/": {"print", "nursery", "store", "server"},
}
# Headers of the standard library and the system that touch the world outside the program.
OUTSIDE_WORLD = {
    "cstdio", "stdio.h", "ctime", "time.h", "condition_variable", "filesystem", "fstream", "future", "iostream",
    "mutex", "print", "shared_mutex", "stop_token", "syncstream", "thread", "unistd.h",
}
CLOCK = re.compile(r"\b(system|steady|high_resolution|utc|file)_clock::now\b|\brandom_device\b|\bgetenv\b")
INCLUDE = re.compile(r'^\s*#\s*include\s*(?:"(?P<own>[^"]+)"|<(?P<other>[^>]+)>)')


def may_include(folder, other):
    if folder == other:
        return True
    if FLOOR_OF[folder] == len(FLOORS) - 1:
        return other in SKINS_SEE
    return FLOOR_OF[other] < FLOOR_OF[folder]


def broken_rules_of_line(path, folder, line):
    """What is wrong with one line of src/<path>, in words; nothing when all is well."""
    pure = FLOOR_OF[folder] <= HIGHEST_PURE_FLOOR
    if pure and not line.lstrip().startswith("//"):
        reached = CLOCK.search(line)
        if reached:
            yield f"{folder} reaches for {reached.group()}; it is to be handed in"
    include = INCLUDE.match(line)
    if not include:
        return
    own, other = include.group("own"), include.group("other")
    if own:
        target = own.split("/")[0] if "/" in own else None
        if target not in FLOOR_OF:
            yield f'"{own}" does not start with a folder of src/'
        elif not may_include(folder, target):
            yield f"{folder} (floor {FLOOR_OF[folder]}) includes {target} (floor {FLOOR_OF[target]})"
        return
    if pure and (other in OUTSIDE_WORLD or other.startswith("sys/")):
        yield f"{folder} (floor {FLOOR_OF[folder]}) includes <{other}>; floors 0 to {HIGHEST_PURE_FLOOR} do no I/O"
    for library, users in LIBRARY_USERS.items():
        if other.startswith(library) and folder not in users and path not in users:
            yield f"<{other}> may be included only from {', '.join(sorted(users))}"


def broken_rules(source_folder):
    """(path, line number, problem) for every broken rule below source_folder."""
    source_folder = pathlib.Path(source_folder)
    for file in sorted(source_folder.rglob("*")):
        if file.suffix not in {".cpp", ".hpp", ".h", ".inc"}:
            continue
        path = file.relative_to(source_folder).as_posix()
        folder = path.split("/")[0]
        if folder not in FLOOR_OF:
            yield path, 1, f"{folder} is no floor of the house; known: {', '.join(FLOOR_OF)}"
            continue
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
            for problem in broken_rules_of_line(path, folder, line):
                yield path, number, problem


def self_test():
    planted = {
        ("climate/up.cpp", '#include "season/plan.hpp"'): True,
        ("season/sideways.hpp", '#include "care/mist.hpp"'): True,
        ("cli/past_nursery.cpp", '#include "season/plan.hpp"'): True,
        ("growth/no_folder.cpp", '#include "species.hpp"'): True,
        ("growth/disk.cpp", "#include <fstream>"): True,
        ("season/clock.cpp", "auto today = std::chrono::system_clock::now();"): True,
        ("season/toml.cpp", "#include <toml++/toml.h>"): True,
        ("cli/plan.cpp", "#include <CLI/CLI.hpp>"): True,
        ("attic/new.cpp", "#include <vector>"): True,
        ("cli/main.cpp", "#include <CLI/CLI.hpp>"): False,
        ("season/plan.cpp", '#include "climate/seasons.hpp"'): False,
        ("season/own.cpp", '  #  include "season/plan.hpp"  // own folder'): False,
        ("nursery/files.cpp", "#include <fstream>"): False,
        ("season/words.cpp", "// system_clock::now() is not for us"): False,
    }
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        for (path, line), _ in planted.items():
            file = pathlib.Path(folder, path)
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(f"#pragma once\n{line}\n", encoding="utf-8")
        found = {(path, number) for path, number, _ in broken_rules(folder)}
    for (path, line), bad in planted.items():
        was_found = (path, 1 if path.startswith("attic") else 2) in found
        if was_found != bad:
            wrong.append(f"{path}: {line!r} {'was not found' if bad else 'was found, but is allowed'}")
    print("\n".join(wrong) or f"{len(planted)} planted includes judged rightly")
    return 1 if wrong else 0


def main(arguments):
    if arguments == ["--self-test"]:
        return self_test()
    problems = [f"{path}:{number}: {problem}" for path, number, problem in broken_rules(arguments[0])]
    files = sum(1 for _ in pathlib.Path(arguments[0]).rglob("*.?pp"))
    if files == 0:
        problems.append(f"{arguments[0]}: no source files there")
    print("\n".join(problems) or f"{files} files keep the floors")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
