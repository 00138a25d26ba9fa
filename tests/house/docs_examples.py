"""Runs the examples in README.md and docs/, so that the manual cannot drift from the program.

In a fenced block marked `console`, a line that starts with "$ " is a command ("> " continues it) and the lines below it
are exactly what a terminal then shows; "..." on a line of its own stands for any number of lines. A fenced block marked
with a language and a file name, as in `toml my-goal.toml`, is saved under that name first, so that later commands can
use it. Each document runs in its own copy of the repository, from top to bottom.

usage: docs_examples.py --program PROGRAM [--update] DOCUMENT...
  --update   writes what was printed into the documents; check the difference before committing it
"""
import argparse
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import expected

ROOT = pathlib.Path(__file__).resolve().parents[2]
SECONDS_AT_MOST = 300
FENCE = re.compile(r"^(?P<indent> *)(?P<ticks>`{3,})(?P<info>.*)$")


class Block:
    """A fenced block: its info words, and the lines [first, end) of the document inside it."""

    def __init__(self, info, first, end):
        self.info, self.first, self.end = info, first, end


def blocks_of(lines):
    blocks, opened = [], None
    for number, line in enumerate(lines):
        fence = FENCE.match(line)
        if not fence:
            continue
        if opened is None:
            opened = (fence["ticks"], fence["info"].split(), number + 1)
        elif fence["ticks"] == opened[0] and not fence["info"].strip():
            blocks.append(Block(opened[1], opened[2], number))
            opened = None
    if opened:
        raise SystemExit(f"line {opened[2]}: a fenced block is never closed")
    return blocks


def commands_of(lines):
    """[(command, its lines as written, expected output)] of a console block."""
    commands = []
    for line in lines:
        if line.startswith("$ "):
            commands.append((line[2:], [line], []))
        elif not commands:
            raise SystemExit(f"a console block starts with {line!r}; it must start with '$ ' and a command")
        elif line.startswith("> ") and commands[-1][0].endswith("\\"):
            command, written, output = commands[-1]
            commands[-1] = (command[:-1] + line[2:], written + [line], output)
        else:
            commands[-1][2].append(line)
    return commands


def scratch_copy(folder, program):
    scratch = pathlib.Path(folder, "strikebed")
    shutil.copytree(ROOT, scratch, ignore=shutil.ignore_patterns("build", ".git", "node_modules", "__pycache__"))
    built = scratch / "build" / "release"
    built.mkdir(parents=True)
    (built / "strikebed").symlink_to(program)
    return scratch, built


def printed_by(command, scratch, built):
    done = subprocess.run(["bash", "-c", command], cwd=scratch, env=expected.environment(built), text=True,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          timeout=SECONDS_AT_MOST, errors="replace", check=False)
    return done.stdout.splitlines()


def run_document(document, program, update):
    """(number of commands, number that printed something else)"""
    lines = document.read_text(encoding="utf-8").splitlines()
    count = failures = 0
    replaced = []  # (first, end, new lines)
    with tempfile.TemporaryDirectory() as folder:
        scratch, built = scratch_copy(folder, program)
        for block in blocks_of(lines):
            inside = lines[block.first:block.end]
            if len(block.info) == 2 and block.info[0] != "console":
                target = scratch / block.info[1]
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_text("\n".join(inside) + "\n", encoding="utf-8")
            if block.info[:1] != ["console"]:
                continue
            now = []
            for command, written, output in commands_of(inside):
                count += 1
                printed = printed_by(command, scratch, built)
                same = expected.matches(output, printed)
                now += written + (output if same else printed)
                if same:
                    continue
                failures += 1
                print(f"{document}:{block.first + 1}: $ {command}\n{expected.difference(output, printed)}\n")
            replaced.append((block.first, block.end, now))
    if update and failures:
        for first, end, now in reversed(replaced):
            lines[first:end] = now
        document.write_text("\n".join(lines) + "\n", encoding="utf-8")
        print(f"{document}: {failures} outputs rewritten")
        failures = 0
    return count, failures


def main():
    arguments = argparse.ArgumentParser(description="runs the examples in the documents")
    arguments.add_argument("--program", required=True, type=pathlib.Path)
    arguments.add_argument("--update", action="store_true")
    arguments.add_argument("documents", nargs="+", type=pathlib.Path)
    given = arguments.parse_args()
    count = failures = 0
    for document in given.documents:
        ran, failed = run_document(document, given.program.resolve(), given.update)
        count += ran
        failures += failed
    print(f"{count} examples in {len(given.documents)} documents, {failures} print something else")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
