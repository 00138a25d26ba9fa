"""The functions that the published checks compute with and no command calls, against their list in docs/checks.md.

A function counts as called when its name stands in the body of a function of src that is itself called, the checks not
counted. Declarations and definitions begin in the first column here, everything else is indented.
"""
import pathlib
import re
import sys

FLOORS = "climate|evidence|growth|shelter|mix|season"
CALL = re.compile(rf"\b(?:{FLOORS})::([a-z_0-9]+)\s*[(>]")
LIST = "## Checked, but not used yet"


def checked(sources):
    return {name for text in sources for name in CALL.findall(text)}


def uses(sources):
    """Pairs (function, name used in its body)."""
    pairs = set()
    for text in sources:
        within = ""
        for line in re.sub(r"//.*", "", text).splitlines():
            indented = line.startswith((" ", "\t"))
            body = line
            if not indented and (head := re.search(r"\b([A-Za-z_0-9]+)\s*\(", line)):
                within, body = head[1], line.partition("{")[2]
            if indented or "{" in line:
                pairs |= {(within, name) for name in re.findall(r"\b[a-z_0-9]+\b", body)}
    return pairs


def unused(names, pairs):
    """Those of `names` that are used by nothing, or only by others like it."""
    waiting = set(names)
    while True:
        called = {name for within, name in pairs if name in waiting and within not in waiting}
        if not called:
            return waiting
        waiting -= called


def listed(document):
    section = document.partition(LIST)[2].partition("\n## ")[0]
    return {name for row in section.splitlines() if row.startswith("| `")
            for name in re.findall(r"`([a-z_0-9]+)`", row.split("|")[1])}


def self_test():
    pairs = uses(["int a(int x) {\n  return b(x);  // c(x)\n}\nint b(int x) { return d(x); }\nint e() {\n  return e();\n}\n"])
    assert unused({"b", "c", "d", "e"}, pairs) == {"c", "e"}, pairs
    assert listed(f"`x`\n{LIST}\n| `a`, `b` | not `c` |\n\n## Next\n| `c` |\n") == {"a", "b"}


def main():
    self_test()
    root = pathlib.Path(sys.argv[1])
    files = [path for pattern in ("*.cpp", "*.hpp") for path in (root / "src").rglob(pattern)]
    checks = [path.read_text() for path in files if path.parent.name == "checks"]
    others = [path.read_text() for path in files if path.parent.name != "checks"]
    found = unused(checked(checks), uses(others))
    written = listed((root / "docs" / "checks.md").read_text())
    if found - written:
        print("docs/checks.md does not list as unused:", ", ".join(sorted(found - written)))
    if written - found:
        print("docs/checks.md lists as unused, but is used or not checked:", ", ".join(sorted(written - found)))
    return int(found != written)


if __name__ == "__main__":
    sys.exit(main())
