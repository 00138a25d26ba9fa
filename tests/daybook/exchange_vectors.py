"""Makes the test vectors of docs/exchange.md by an implementation of its own, and checks those that are kept.

Each vector: the ids that a copy holds (of entries as entry() makes them), the message that it receives (none: it
begins), and what it answers once it has taken the message's entries in.

usage: exchange_vectors.py            compares vectors/exchange.json with what is made here
       exchange_vectors.py --update   writes it anew
"""
import hashlib
import json
import pathlib
import random
import sys

KEPT = pathlib.Path(__file__).parent / "vectors" / "exchange.json"
LISTED, PARTS, RANGES, GIVEN = 32, 16, 64, 1000
LAST = (1 << 128) - 1


def compact(value):
    return json.dumps(value, separators=(",", ":"))


def text_of(number):
    return f"{number:032x}"


def digest(ids):
    return hashlib.sha256(b"".join(number.to_bytes(16, "big") for number in ids)).hexdigest()


def entry(number):
    moment = "2027-04-18T09:30:00.000+02:00"
    return compact({"v": 1, "id": text_of(number), "happened": moment, "written": moment, "device": "phone",
                    "kind": "remark", "body": {"text": "seen"}})


def message(ranges=(), wanted=(), entries=()):
    head = {"v": 1, "ranges": list(ranges), "wanted": [text_of(one) for one in wanted], "entries": len(entries)}
    return "".join(line + "\n" for line in [compact(head), *entries])


def with_digest(low, high, ids):
    return {"from": text_of(low), "to": text_of(high), "digest": digest(ids)}


def described(low, high, ids):
    """What a copy says of a range in which the other one holds something else."""
    if len(ids) <= LISTED:
        return [{"from": text_of(low), "to": text_of(high), "ids": [text_of(one) for one in ids]}]
    ranges = []
    for part in range(PARTS):
        inside = ids[len(ids) * part // PARTS:len(ids) * (part + 1) // PARTS]
        end = high if part == PARTS - 1 else inside[-1]
        ranges.append(with_digest(low, end, inside))
        low = end + 1
    return ranges


class Copy:
    def __init__(self, ids):
        self.ids = set(ids)

    def within(self, low, high):
        return sorted(one for one in self.ids if low <= one <= high)

    def opening(self):
        return message([with_digest(0, LAST, self.within(0, LAST))])

    def answer(self, received):
        head, *entries = received.splitlines()
        self.ids |= {int(json.loads(one)["id"], 16) for one in entries}
        head = json.loads(head)
        ranges, wanted, given = [], [], []
        for one in head["ranges"]:
            low, high = int(one["from"], 16), int(one["to"], 16)
            mine = self.within(low, high)
            if "digest" in one:
                if one["digest"] != digest(mine):
                    ranges += described(low, high, mine)
                continue
            theirs = {int(text, 16) for text in one["ids"]}
            wanted += sorted(theirs - set(mine))
            surplus = [number for number in mine if number not in theirs]
            if len(surplus) > GIVEN:
                ranges += described(low, high, mine)
            elif len(given) + len(surplus) > GIVEN:
                ranges.append(with_digest(low, high, mine))
            else:
                given += surplus
        given += [number for number in (int(text, 16) for text in head["wanted"]) if number in self.ids]
        if len(ranges) > RANGES:
            low, high = int(ranges[RANGES - 1]["from"], 16), int(ranges[-1]["to"], 16)
            ranges[RANGES - 1:] = [with_digest(low, high, self.within(low, high))]
        return message(ranges, wanted, [entry(number) for number in given])


def talk(name, a, b, most=8):
    """The first messages that two copies send each other, each with what its sender held before."""
    copies, received = [Copy(a), Copy(b)], ""
    for step in range(most):
        copy = copies[step % 2]
        held = [text_of(number) for number in sorted(copy.ids)]
        answered = copy.answer(received) if received else copy.opening()
        yield {"name": f"{name}, message {step + 1}", "ids": held, "received": received, "answered": answered}
        if answered == message():
            return
        received = answered


def made():
    draw = random.Random(20270418)
    few = [draw.getrandbits(128) for _ in range(40)]
    many = [draw.getrandbits(128) for _ in range(200)]
    vectors = list(talk("two empty copies", [], []))
    vectors += talk("an empty copy and one of three", [], few[:3])
    vectors += talk("the first and the last id", [0], [LAST])
    vectors += talk("some in common", few[:30], few[10:])
    vectors += talk("more than are listed", few, few[:39] + [1])
    vectors += talk("few missing of many", many[2:], many[:-1])
    vectors += talk("an empty copy and one of many", [], many, most=3)
    return vectors


def main(arguments):
    now = json.dumps(made(), indent=1) + "\n"
    if arguments == ["--update"]:
        KEPT.parent.mkdir(exist_ok=True)
        KEPT.write_text(now, encoding="utf-8")
        return 0
    same = KEPT.read_text(encoding="utf-8") == now
    print(f"{KEPT.name} {'is' if same else 'is not'} what is made here")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
