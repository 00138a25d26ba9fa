"""Fails on a text in src/ that speaks of a skin's controls below the skins, or of a field that no skin has.

Floors 0 to 5 name the fields of their requests (docs/architecture.md, "Engines name fields"): no string literal there
holds an option of the command line (two hyphens and a letter), and every field it refers to as <field>, or that print asks
the name of, stands beside an option in src/cli.

usage: field_rule.py SOURCE_FOLDER      prints file:line of every broken rule
       field_rule.py --self-test        plants bad texts and checks that each is found
"""
import pathlib
import re
import sys
import tempfile

FLOORS = ["base", "climate", "evidence", "growth", "shelter", "mix", "season", "care", "daybook", "print", "nursery"]
# What is skipped and what is looked at, in the order in which it may begin: comments, characters, raw strings, strings.
TOKEN = re.compile(r"""//[^\n]*|/\*.*?\*/|'(?:[^'\\\n]|\\.)+'"""
                   r"""|R"(?P<mark>[^(\s]*)\((?P<raw>.*?)\)(?P=mark)"|"(?P<text>(?:[^"\\\n]|\\.)*)\"""", re.S)
OPTION = re.compile(r"--[a-z]")
REFERENCE = re.compile(r"<([a-z][a-z0-9_.]*)>")
ASKED = re.compile(r'\b(?:field_name|in_brackets)\(names, "([^"]*)"')
NAMED = re.compile(r'\{"--[a-z-]+",\s*"([a-z0-9_.]+)"|\bfield == "([a-z0-9_.]+)"')


def literals(source):
    """Line and text of every string literal."""
    for token in TOKEN.finditer(source):
        text = token["raw"] if token["raw"] is not None else token["text"]
        if text is not None and not (token["text"] is not None and is_include(source, token.start())):
            yield source.count("\n", 0, token.start()) + 1, text


def is_include(source, start):
    return source[source.rfind("\n", 0, start) + 1:start].lstrip().startswith("#")


def named_fields(root):
    found = set()
    for path in sorted((root / "cli").rglob("*.cpp")):
        for match in NAMED.finditer(path.read_text(encoding="utf-8")):
            found.add(match[1] or match[2])
    return found


def broken_rules(root):
    root = pathlib.Path(root)
    known = named_fields(root)
    for floor in FLOORS:
        for path in sorted((root / floor).rglob("*.?pp")):
            source = path.read_text(encoding="utf-8")
            fields = [(source.count("\n", 0, asked.start()) + 1, asked[1]) for asked in ASKED.finditer(source)]
            for line, text in literals(source):
                if OPTION.search(text):
                    yield path.relative_to(root), line, f"names an option: {text[:60]}"
                if floor != "print":  # which writes HTML, and errors nowhere
                    fields += [(line, field) for field in REFERENCE.findall(text)]
            for line, field in fields:
                if field not in known and field.split(".")[0] not in known:
                    yield path.relative_to(root), line, f"no option stands beside the field \"{field}\""


def self_test():
    planted = {
        'x("give --dose");': True,
        'x(R"(give --dose)");': True,
        'x("two of <target> and <dose>");': False,
        'x("<columns.tmin>");': False,
        'x("<nowhere>");': True,
        '// "--dose"': False,
        "/* \"--dose\" */ x('\"');": False,
        'x("a -- b, --04-10, ---");': False,
        r'x("\"--dose\"");': True,
        'x("a < b > c");': False,
        'field_name(names, "dose")': False,
        'field_name(names, "nothing")': True,
    }
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / "cli").mkdir()
        (root / "mix").mkdir()
        (root / "cli" / "a.cpp").write_text('{"--dose", "dose", "X"}, {"--for",\n "target", ""}, field == "columns"')
        for line, bad in planted.items():
            (root / "mix" / "a.cpp").write_text(f'#include "--dose.hpp"\n{line}\n', encoding="utf-8")
            found = [number for _, number, _ in broken_rules(root)]
            if found != ([2] if bad else []):
                wrong.append(f"{line}: found in {found}")
    print("\n".join(wrong) or f"{len(planted)} planted texts judged rightly")
    return 1 if wrong else 0


def main(arguments):
    if arguments == ["--self-test"]:
        return self_test()
    problems = [f"{path}:{number}: {problem}" for path, number, problem in broken_rules(arguments[0])]
    if not named_fields(pathlib.Path(arguments[0])):
        problems.append(f"{arguments[0]}: no options there")
    print("\n".join(problems) or "texts name fields, and each field has an option")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
