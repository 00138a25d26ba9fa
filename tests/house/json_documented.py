"""Whether the documents of `--json` are as docs/json.md says: every key of its tables, none else, each of its type.

Usage: json_documented.py --program strikebed --root SOURCE
"""
import argparse
import datetime
import json
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

NUMBERS = {"number", "share", "degree", "degrees C", "metre", "millimetre", "gram", "litre", "millilitre", "kilogram",
           "square metre", "hour", "ppm", "degree-day", "MJ/m2"}
# What a plural, or a word that looks like one, is a plural of.
LISTS = {"whole numbers": "whole number", "two whole numbers": "whole number", "two numbers": "number",
         "days of any year": "day of any year", "tallies": "tally", "degrees C": "degrees C", "true or false": "true or false",
         "figures": "figures"}


class Type:
    """What the second column of a table says of a key."""

    def __init__(self, words, keys, key):
        self.optional = words.endswith(" or left out")
        words = words.removesuffix(" or left out")
        self.nullable = words.endswith(" or null")
        words = words.removesuffix(" or null")
        self.word = LISTS.get(words, words.removesuffix("s"))
        plural = self.word != words and self.word not in NUMBERS - {"number"}
        self.length = 2 if words.startswith("two ") else None
        self.is_list = key.endswith("[]") or (keys == 1 and plural)


def tables(page, command):
    """The keys of the tables of one command by their paths, and the shapes that several keys share."""
    section = re.search(rf"^## `{command}`\n(.*?)(?=^## |\Z)", page, re.M | re.S)[1]
    types, prefix = {}, ""
    for line in section.splitlines():
        if heading := re.match(r"### `(\w+)`", line):
            name = heading[1]
            prefix = (name + "[]." if name in types and types[name].is_list else name + ".")
        elif row := re.match(r"\| (`[^|]+`) \| ([^|]+) \|", line):
            keys = re.findall(r"`([^`]+)`", row[1])
            for key in keys:
                types[prefix + key.removesuffix("[]")] = Type(row[2].strip(), len(keys), key)
    return types


def scalar_fits(value, word):
    if word == "true or false":
        return isinstance(value, bool)
    if word == "text":
        return isinstance(value, str)
    if word == "day of any year":
        return isinstance(value, str) and re.fullmatch(r"--\d\d-\d\d", value) is not None
    if word == "date":
        try:
            return isinstance(value, str) and datetime.date.fromisoformat(value).isoformat() == value
        except ValueError:
            return False
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    if word == "whole number":
        return value == int(value)
    return word in NUMBERS and (word != "share" or 0 <= value <= 1)


class Comparison:
    def __init__(self, types):
        self.types, self.problems, self.seen = types, set(), set()

    def children(self, path):
        start = path + "." if path else ""
        return {key[len(start):]: key for key in self.types if key.startswith(start) and "." not in key[len(start):]}

    def keys(self, value, path, shape):
        """An object at `path`, whose keys the tables give under `shape`."""
        if not isinstance(value, dict):
            self.problems.add(f"{path}: not an object")
            return
        documented = self.children(shape)
        for name in documented.keys() - value.keys():
            if not self.types[documented[name]].optional:
                self.problems.add(f"{path}.{name}: in the page, not in the document")
        for name, one in value.items():
            if name not in documented:
                self.problems.add(f"{path}.{name}: in the document, not in the page")
                continue
            self.value(one, f"{path}.{name}", documented[name])

    def value(self, value, path, key):
        kind = self.types[key]
        self.seen.add(key)
        if value is None and kind.nullable:
            return
        if not kind.is_list:
            self.one(value, path, key)
        elif not isinstance(value, list) or (kind.length or len(value)) != len(value):
            self.problems.add(f"{path}: not a list of {kind.word}, or not as long as documented")
        else:
            for one in value:
                self.one(one, path + "[]", key)

    def one(self, value, path, key):
        kind = self.types[key]
        if kind.word == "object":
            self.keys(value, path, key + "[]" if kind.is_list else key)
        elif kind.word == "figures":
            if not isinstance(value, dict):
                self.problems.add(f"{path}: not figures by name")
        elif self.children(kind.word):  # a shape that several keys share
            self.keys(value, path, kind.word)
        elif not scalar_fits(value, kind.word):
            self.problems.add(f"{path}: {json.dumps(value)[:60]} is not a {kind.word}")

    def never_seen(self):
        shapes = {kind.word for kind in self.types.values()}
        return {key for key in self.types if key not in self.seen and not self.types[key].optional
                and key.partition(".")[0] not in shapes}


def compare(page, command, documents):
    comparison = Comparison(tables(page, command))
    for document in documents:
        comparison.keys(document, "", "")
    return sorted({f"{command} {problem}" for problem in comparison.problems} |
                  {f"{command} {key}: in the page, in no document of this test" for key in comparison.never_seen()})


def self_test():
    page = """## `c`
| `a` | share or null | |
| `list[]` | objects | |
| `list[].n`, `list[].m` | whole numbers | |
| `part` | object | |
| `pair` | two whole numbers | |
| `how` | spread | |
### `part`
| `when` | date | |
### `spread`
| `low` | number | |
## `d`
"""
    good = {"a": 0.5, "list": [{"n": 1, "m": 2}], "part": {"when": "2027-04-03"}, "pair": [1, 2], "how": {"low": 1.5}}
    assert compare(page, "c", [good]) == [], compare(page, "c", [good])
    for change in ({"a": 2}, {"b": 1}, {"list": [{"n": 1}]}, {"list": [{"n": 1.5, "m": 2}]}, {"list": []},
                   {"part": {"when": "2027-4-3"}}, {"part": None}, {"pair": [1]}, {"how": {"low": "x"}}, {"how": 1}):
        assert compare(page, "c", [good | change]), change
    assert compare(page, "c", [{key: one for key, one in good.items() if key != "a"}])


def daybook_documents(program):
    """What `note` and `batches` print of a small daybook with something of everything."""
    with tempfile.TemporaryDirectory() as folder:
        def document(*words):
            place = ["--daybook", str(pathlib.Path(folder, "daybook")), "--json"]
            printed = subprocess.run([program, *words, *place], capture_output=True, text=True, check=False)
            if printed.returncode != 0:
                sys.exit(printed.stderr)
            return json.loads(printed.stdout)

        def note(words, day, *options):
            return document("note", *shlex.split(words), "--today", day, *options)

        notes = [note("lot ridge pinus-thunbergii 800 seeds", "2027-04-01"),
                 note("sow lot ridge 200", "2027-04-01")]
        seeds = notes[1]["batches"][0]["code"]
        for words in ("test ridge 41 of 50", f"count {seeds} emerged 150 of 200", f"count {seeds} alive 140",
                      f"strike {seeds} 20 offered 22 rejected 1 waiting 1"):
            notes.append(note(words, "2027-06-05"))
        cuttings = next(one["code"] for one in notes[-1]["batches"] if one["holds"] == "cuttings")
        for words in (f"count {cuttings} rooted 15 undecided 4", f"grade {cuttings} radial 12 of 15",
                      "bottle solution concentrate volume 250 ml use-by 2028-06-01"):
            notes.append(note(words, "2027-08-05"))
        goal = pathlib.Path(folder, "goal.toml")
        goal.write_text("by = 2027-10-01\n")
        notes.append(note(f"goal {goal} autumn", "2027-08-05"))
        notes.append(note("plan autumn 420 assurance 0.9 sowing 2027-04-01 420", "2027-08-05"))
        notes.append(note(f"lost {cuttings} 900 dried", "2027-08-05", "--anyway"))
        for device in ("one", "two"):
            note(f"lost {seeds} 3 eaten", "2027-08-06", "--device", device)
        return notes, [document("batches"), document("batches", seeds)]


def last_goal(root):
    """The text of the last goal in the daybook of the invented nursery."""
    lines = (root / "demo" / "three-seasons.json").read_text().splitlines()
    goals = [json.loads(line.rstrip(",")) for line in lines if '"kind":"goal_set"' in line]
    return goals[-1]["body"]["goal_toml"]


def season_documents(program, root):
    """What `forecast` prints of the invented nursery, once with a forecast that was noted before; `profile`; and `today`."""
    with tempfile.TemporaryDirectory() as folder:
        daybook = str(pathlib.Path(folder, "daybook"))
        weather = root / "demo" / "weather" / "seattle-2012-2015.csv"

        def run(*words):
            printed = subprocess.run([program, *map(str, words), "--daybook", daybook, "--json"], capture_output=True,
                                     text=True, check=False)
            if printed.returncode != 0:
                sys.exit(printed.stderr)
            return json.loads(printed.stdout)

        run("import", root / "demo" / "three-seasons.json")
        short_of_room = pathlib.Path(folder, "short-of-room.toml")
        short_of_room.write_text(last_goal(root).replace("cuttings_at_most = 48", "cuttings_at_most = 8"))
        return ([run("forecast", "--weather", weather, "--today", "2026-04-20", "--note"),
                 run("forecast", short_of_room, "--weather", weather, "--today", "2026-05-20"),
                 run("forecast", "--weather", weather, "--today", "2026-06-28")],
                [run("profile", "--weather", weather, "--today", "2026-06-28"),
                 run("profile", "--weather", weather, "--today", "2026-11-28")],
                [run("today", "--weather", weather, "--today", day) for day in ("2026-01-20", "2026-05-30")])


def main():
    self_test()
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--program", required=True)
    arguments.add_argument("--root", required=True, type=pathlib.Path)
    given = arguments.parse_args()
    page = (given.root / "docs" / "json.md").read_text()

    def document(*words):
        printed = subprocess.run([given.program, *map(str, words), "--json"], capture_output=True, text=True, check=False)
        if printed.stderr and not printed.stdout:
            sys.exit(printed.stderr)
        return json.loads(printed.stdout)

    good = (given.root / "tests" / "cli" / "good_goal.toml").read_text()
    with tempfile.TemporaryDirectory() as folder:
        def plan(name, text, *words):
            path = pathlib.Path(folder) / name
            path.write_text(text)
            return document("plan", path, "--today", "2026-12-01", *words)

        pathlib.Path(folder, "mine.toml").write_text("seeds_per_gram = 20\n")
        plans = [document("plan", given.root / "demo" / "goal.toml", "--today", "2026-12-01"),
                 plan("seeds.toml", good, "--seeds", "96"),
                 plan("late.toml", good.replace("by        = 2027-10-01", "by        = 2027-02-01")),
                 plan("many.toml", good.replace("cuttings_at_most = 48", "cuttings_at_most = 3")),
                 plan("any-day.toml", re.sub(r"weekdays .*", "", good)),
                 plan("sure.toml", good.replace("assurance = 0.90", "assurance = 0.9995")),
                 plan("own.toml", "profile = \"mine.toml\"\n" + good.replace("cuttings_at_most = 48",
                                                                            "sowings_at_most = 2"))]
        weather = [document("weather", given.root / "demo" / "weather" / "seattle-2012-2015.csv"),
                   document("weather", given.root / "demo" / "weather" / "seattle-2012-2015.csv", "--latitude", "47.6")]
    disinfectants = [document("mix", "disinfectant", "--from", "96 % ethanol", "--target", "70 % ethanol", "--make", "500 mL"),
                     document("mix", "disinfectant", "--from", "5 % hypochlorite", "--target", "5000 ppm chlorine",
                              "--make", "5 L")]
    feeds = [document("mix", "feed", "--fertiliser", "20-10-20", "--target", "100 N", "--for", "9 L"),
             document("mix", "feed", "--fertiliser", "20-0-0", "--fertiliser", "0-40-0", "--fertiliser", "0-0-50",
                      "--phase", "growth", "--for", "9 L", "--injector", "1 in 100")]
    notes, batches = daybook_documents(given.program)
    forecasts, profiles, due = season_documents(given.program, given.root)
    problems = (compare(page, "forecast", forecasts) + compare(page, "profile", profiles) + compare(page, "today", due) + compare(page, "note", notes) + compare(page, "batches", batches) + compare(page, "plan", plans) + compare(page, "weather", weather) +
                compare(page, "mix disinfectant", disinfectants) + compare(page, "mix feed", feeds) +
                compare(page, "checks", [document("checks")]))
    print("\n".join(problems))
    return int(bool(problems))


if __name__ == "__main__":
    sys.exit(main())
