"""Compares what a command printed with what was expected, for docs_examples.py and tests/cli/run_cases.py."""
import difflib
import os

ELISION = "..."  # on a line of its own: any number of lines, also none


def _pieces(lines):
    """The runs of lines between elisions."""
    pieces = [[]]
    for line in lines:
        if line.strip() == ELISION:
            pieces.append([])
        else:
            pieces[-1].append(line)
    return pieces


def _find(piece, lines, start):
    for at in range(start, len(lines) - len(piece) + 1):
        if lines[at:at + len(piece)] == piece:
            return at
    return None


def matches(expected, printed):
    """Whether the printed lines are the expected ones; both are lists of lines without their ends."""
    first, *rest = _pieces(expected)
    if not rest:
        return printed == first
    *middle, last = rest
    if printed[:len(first)] != first:
        return False
    at = len(first)
    for piece in middle:
        found = _find(piece, printed, at)
        if found is None:
            return False
        at = found + len(piece)
    return len(printed) - at >= len(last) and printed[len(printed) - len(last):] == last


def difference(expected, printed):
    """A readable account of how they differ."""
    return "\n".join(difflib.unified_diff(expected, printed, "expected", "printed", lineterm=""))


def environment(program_folder):
    """The same surroundings on every machine, with the built program found first."""
    kept = {name: value for name, value in os.environ.items() if name in ("HOME", "TMPDIR", "ASAN_OPTIONS", "UBSAN_OPTIONS")}
    return kept | {
        "PATH": f"{program_folder}:{os.environ.get('PATH', '/usr/bin:/bin')}",
        "LC_ALL": "C.UTF-8",
        "TZ": "UTC",
        "TERM": "dumb",
    }


def self_test():
    cases = [
        (["a", "b"], ["a", "b"], True),
        (["a", "b"], ["a"], False),
        (["a", "..."], ["a"], True),
        (["a", "..."], ["a", "x", "y"], True),
        (["...", "z"], ["a", "z"], True),
        (["...", "z"], ["z", "a"], False),
        (["a", "...", "m", "...", "z"], ["a", "1", "m", "2", "z"], True),
        (["a", "...", "m", "...", "z"], ["a", "1", "2", "z"], False),
        (["a", "...", "a"], ["a"], False),
        ([], [], True),
        ([], ["a"], False),
        (["a ... b"], ["a 1 b"], False),
    ]
    wrong = [case for case in cases if matches(case[0], case[1]) != case[2]]
    print("\n".join(map(repr, wrong)) or f"{len(cases)} comparisons judged rightly")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(self_test())
