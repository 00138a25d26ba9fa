"""Runs end-to-end cases: files, a command, what it prints, how it ends. A case is data; anybody can add one.

    # What the case covers.
    == file notes.csv                  a file with the lines below
    == edit goal.toml from good.toml   a copy of a file beside the case (or, below demo/, of the repository), changed by
    latitude = 47.6 => latitude = 95   lines "old => new"; old stands in exactly one place. "+ line" adds one at the end.
    == run                             a shell command; the program is `strikebed`
    strikebed plan goal.toml --today 2027-01-10
    == exit 1
    == out                             standard output; "..." alone on a line is any number of lines; left out: nothing
    == err                             standard error, the same
    strikebed: goal.toml:11: place.latitude: ...

A case may run several commands, one after the other, in the same new empty folder. In a line of "out" or "err", "<...>"
stands for any text in that line.

usage: run_cases.py --program PROGRAM [--update] CASE...
       run_cases.py --self-test
"""
import argparse
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT / "tests" / "house"))
import expected  # noqa: E402

SECONDS_AT_MOST = 900  # only against a program that hangs: sanitizers on a busy machine are slow
MARK = "== "


class BadCase(Exception):
    """The case file itself is wrong."""


class Part:
    """One "== word rest" heading and the lines below it."""

    def __init__(self, heading):
        self.heading = heading
        self.word, *self.rest = heading[len(MARK):].split()
        self.lines = []


def parts_of(text):
    """The comment at the top, and the parts."""
    comment, parts = [], []
    for line in text.splitlines():
        if line.startswith(MARK):
            parts.append(Part(line))
        elif parts:
            parts[-1].lines.append(line)
        else:
            comment.append(line)
    if not any(line.startswith("#") for line in comment):
        raise BadCase("the case must start with a line '# what it covers'")
    if not any(part.word == "run" for part in parts):
        raise BadCase("the case runs nothing")
    return comment, with_silence_spelt_out(parts)


def with_silence_spelt_out(parts):
    """A run that says nothing of its exit code, "out" or "err" expects 0 and silence: adds the parts that say so."""
    complete, unsaid = [], {}
    for part in parts + [Part(MARK + "run")]:
        if part.word == "run":
            complete += [Part(MARK + heading) for heading in unsaid.values()]
            unsaid = {"exit": "exit 0", "out": "out", "err": "err"}
        unsaid.pop(part.word, None)
        complete.append(part)
    return complete[:-1]


def edited(text, changes):
    for change in changes:
        if not change.strip():
            continue
        if change.startswith("+ "):
            text += change[2:] + "\n"
            continue
        if " => " not in change:
            raise BadCase(f"neither 'old => new' nor '+ line': {change!r}")
        old, new = change.split(" => ", 1)
        if text.count(old) != 1:
            raise BadCase(f"{old!r} stands in {text.count(old)} places, not in one")
        text = text.replace(old, new)
    return text


def set_up(part, folder):
    if part.word == "file":
        (name,) = part.rest
        text = "".join(line + "\n" for line in part.lines)
    else:
        name, _, source = part.rest
        beside = HERE / source
        text = edited((beside if beside.exists() else ROOT / source).read_text(encoding="utf-8"), part.lines)
    target = folder / name
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, encoding="utf-8")


def same_lines(wanted, printed):
    """Line by line as in expected.matches; in a wanted line "<...>" is any text."""
    patterns = {line: re.compile(re.escape(line).replace(re.escape("<...>"), ".*"))
                for line in wanted if "<...>" in line}
    for index, line in enumerate(printed):
        for wanted_line, pattern in patterns.items():
            if pattern.fullmatch(line):
                printed = printed[:index] + [wanted_line] + printed[index + 1:]
                break
    return expected.matches(wanted, printed)


def run_case(case, program, update):
    """What was wrong, in words; empty when the case holds."""
    comment, parts = parts_of(case.read_text(encoding="utf-8"))
    problems = []
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch, "here")
        folder.mkdir()
        tools = pathlib.Path(scratch, "tools")
        tools.mkdir()
        (tools / "strikebed").symlink_to(program)
        done = None
        for part in parts:
            if part.word in ("file", "edit"):
                set_up(part, folder)
            elif part.word == "run":
                command = "\n".join(part.lines)
                done = subprocess.run(["bash", "-c", command], cwd=folder, env=expected.environment(tools), text=True,
                                      stdin=subprocess.DEVNULL, capture_output=True, errors="replace",
                                      timeout=SECONDS_AT_MOST, check=False)
            elif part.word == "exit" and done:
                if done.returncode != int(part.rest[0]):
                    problems.append(f"$ {command}\nexit {done.returncode}, expected {part.rest[0]}")
                    part.heading = f"{MARK}exit {done.returncode}"
            elif part.word in ("out", "err") and done:
                printed = (done.stdout if part.word == "out" else done.stderr).splitlines()
                wanted = part.lines
                if wanted and not wanted[-1].strip():  # an empty line before the next heading is only for the eye
                    wanted = wanted[:-1]
                if not same_lines(wanted, printed):
                    problems.append(f"$ {command}\n{part.word}:\n{expected.difference(wanted, printed)}")
                    part.lines = printed
            else:
                raise BadCase(f"unknown heading {part.heading!r}")
    if problems and update:
        lines = comment + [line for part in parts for line in [part.heading, *part.lines]]
        case.write_text("\n".join(lines) + "\n", encoding="utf-8")
        print(f"{case.name}: rewritten")
        return []
    return problems


def self_test():
    """A case that holds must hold, and a wrong exit code, output and edit must each be found."""
    good = "# Covers the runner.\n== file a\nx = 1\n== run\ncat a; echo no >&2; exit 3\n== exit 3\n== out\nx = 1\n== err\n<...>o\n"
    tries = {
        "good": (good, False),
        "wrong exit": (good.replace("exit 3\n== out", "exit 1\n== out"), True),
        "wrong out": (good.replace("== out\nx = 1", "== out\nx = 2"), True),
        "unmentioned err": (good.replace("== err\n<...>o\n", ""), True),
    }
    wrong = []
    with tempfile.TemporaryDirectory() as scratch:
        for name, (text, bad) in tries.items():
            case = pathlib.Path(scratch, "try.case")
            case.write_text(text, encoding="utf-8")
            if bool(run_case(case, pathlib.Path("/bin/true"), update=False)) != bad:
                wrong.append(name)
    try:
        edited("a = 1\na = 1\n", ["a = 1 => a = 2"])
        wrong.append("an edit that fits two places")
    except BadCase:
        pass
    print("\n".join(wrong) or f"{len(tries) + 1} cases judged rightly")
    return 1 if wrong else 0


def main():
    arguments = argparse.ArgumentParser(description="runs end-to-end cases")
    arguments.add_argument("--self-test", action="store_true")
    arguments.add_argument("--program", type=pathlib.Path)
    arguments.add_argument("--update", action="store_true", help="write what was printed into the cases")
    arguments.add_argument("cases", nargs="*", type=pathlib.Path)
    given = arguments.parse_args()
    if given.self_test:
        return self_test()
    failures = 0
    for case in given.cases:
        try:
            problems = run_case(case, given.program.resolve(), given.update)
        except BadCase as bad:
            problems = [str(bad)]
        if problems:
            failures += 1
            print(f"{case}:\n" + "\n\n".join(problems) + "\n")
    print(f"{len(given.cases)} cases, {failures} do not hold")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
