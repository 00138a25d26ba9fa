#!/usr/bin/env python3
"""The same fold in a plain script: levels and differences of every batch of an exported daybook, without contradictions,
possible doubles, rings and stocks.

    peer_fold.py EXPORT REPETITIONS     prints the milliseconds of reading and of folding, and what is left in all
"""
import json
import statistics
import sys
import time


def level_of(counted):
    if counted.get("sample") or counted.get("destructive"):
        return None
    if "alive" in counted:
        return counted["alive"]
    signs = [counted.get(sign) for sign in ("green", "turning", "red", "faded")]
    if None not in signs:
        return sum(signs)
    rest = counted.get("undecided", counted.get("green"))
    return counted["rooted"] + rest if "rooted" in counted and rest is not None else None


def fold(entries):
    withdrawn = {entry["body"]["target"] for entry in entries if entry["kind"] == "withdrawn"}
    left = {}
    for entry in sorted((one for one in entries if one["id"] not in withdrawn),
                        key=lambda one: (one["happened"], one["written"], one["id"])):
        kind, body, batch = entry["kind"], entry["body"], entry.get("batch")
        if kind == "batch_started":
            left[entry["id"]] = body.get("number", 0) + sum(one["number"] for one in body.get("from", ()))
            for one in body.get("from", ()):
                left[one["batch"]] -= one["number"]
        elif kind == "sown" and "number" in body:
            left[batch] = body["number"]
        elif kind in ("lost", "handed_over"):
            left[batch] -= body["number"]
        elif kind == "counted":
            level = level_of(body)
            if level is not None:
                left[batch] = level
        elif kind == "struck":
            gone = body["struck"] + body.get("rejected", 0) + body.get("broken", 0)
            left[batch] -= gone
            left[body["into"]] += body["struck"]
    return left


def main():
    path, repetitions = sys.argv[1], int(sys.argv[2])
    reading, folding = [], []
    for _ in range(repetitions):
        begin = time.perf_counter()
        with open(path, encoding="utf-8") as file:
            entries = json.load(file)["entries"]
        between = time.perf_counter()
        left = fold(entries)
        reading.append(1000 * (between - begin))
        folding.append(1000 * (time.perf_counter() - between))
    print(f"reading_ms {statistics.median(reading):.1f}")
    print(f"folding_ms {statistics.median(folding):.1f}")
    print(f"left {sum(left.values())}")
    print(f"version Python {sys.version.split()[0]}")


if __name__ == "__main__":
    main()
