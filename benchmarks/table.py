#!/usr/bin/env python3
"""Makes the table of docs/benchmarks.md from what benchmarks/compare has measured.

    table.py FOLDER [DOCUMENT]     prints it; with DOCUMENT, also puts it there between the two markers"""
import json
import sys

BEGIN, END = "<!-- measured: begin -->", "<!-- measured: end -->"
FLOOR_SHARES, FLOOR_NS = 1300, 0.3  # what the thermal shares of a future take at the least, as the target was set


def read_lines(folder, name):
    with open(f"{folder}/{name}.txt", encoding="utf-8") as lines:
        return dict(line.rstrip("\n").split(" ", 1) for line in lines)


CHANGES = {"count": "count", "assurance_asked": "assurance", "rate": "a rate", "by": "`by`", "room": "room",
           "weekday": "a weekday"}  # as in season_benchmark.cpp and browser.mjs


class Measured:
    """The median of each benchmark, its fastest repetition, and its counters. Processor time, but where threads work."""

    def __init__(self, folder):
        with open(f"{folder}/benchmarks.json", encoding="utf-8") as file:
            rows = json.load(file)["benchmarks"]
        self.rows = {(row["run_name"], row["aggregate_name"]): row for row in rows if "aggregate_name" in row}

    def ms(self, name, which="median"):
        row = self.rows[name, which]
        return row["real_time" if "real_time" in name else "cpu_time"]

    def counter(self, name, counter):
        return self.rows[name, "median"][counter]


def number(value):
    return f"{value:,.0f}" if value >= 100 else f"{value:.1f}" if value >= 10 else f"{value:.2f}"


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    return lines + ["| " + " | ".join(row) + " |" for row in rows]


def timed_row(measured, what, name, target=None):
    median = measured.ms(name)
    verdict = "" if target is None else "yes" if median <= target else f"no, {median / target:.1f} times"
    return [what, "" if target is None else f"{target:g} ms", f"{number(median)} ms",
            f"{number(measured.ms(name, 'fastest'))} ms", verdict]


def ratio_row(what, ratio, target, met):
    return [what, target, f"{ratio:.2f}" if ratio < 10 else f"{ratio:.0f}", "", "yes" if met else "no"]


def strikebed_table(measured):
    whole = measured.ms("whole_answer/2/iterations:1/real_time")
    unknowns = measured.counter("whole_answer/2/iterations:1/real_time", "what not knowing costs")
    without = whole - unknowns
    growth = {cap: measured.ms(f"assurance/{cap}/1000000") / measured.ms(f"assurance/{cap}/1000") for cap in ("no_cap", "cap")}
    rows = [
        timed_row(measured, "thermal shares of 6,144 futures", "thermal_shares", 20),
        timed_row(measured, "one plan on them, 600 seeds, no cap", "plan_on_shares/no_cap", 20),
        timed_row(measured, "one plan on them, 600 seeds, 48 cuttings a session", "plan_on_shares/cap", 20),
        timed_row(measured, "- of it: rates and rooting of all futures and sessions", "rates"),
        timed_row(measured, "- of it: what becomes of the offered", "sowing"),
        timed_row(measured, "- of it: how sure, 600 seeds, no cap", "assurance/no_cap/600"),
        timed_row(measured, "- of it: how sure, 600 seeds, cap", "assurance/cap/600"),
        timed_row(measured, "how sure, 1,000 seeds, cap", "assurance/cap/1000"),
        timed_row(measured, "how sure, 1,000,000 seeds, cap", "assurance/cap/1000000"),
        ratio_row("1,000,000 seeds against 1,000, no cap", growth["no_cap"], "1.1 times", growth["no_cap"] <= 1.1),
        ratio_row("1,000,000 seeds against 1,000, cap", growth["cap"], "1.1 times", growth["cap"] <= 1.1),
        ["whole answer but for what not knowing costs, two cores", "1000 ms", f"{number(without)} ms", "",
         "yes" if without <= 1000 else f"no, {without / 1000:.1f} times"],
        timed_row(measured, "whole answer, two cores", "whole_answer/2/iterations:1/real_time"),
        timed_row(measured, "whole answer, one core", "whole_answer/1/iterations:1/real_time"),
        timed_row(measured, "smallest number of seeds alone, exact", "smallest_number/exact"),
        timed_row(measured, "smallest number of seeds alone, within 0.4 %", "smallest_number/quick"),
        timed_row(measured, "262,992 hours of CSV, six columns, read and checked", "read_hourly_csv/six_columns", 150),
        timed_row(measured, "262,992 hours of CSV, temperature alone", "read_hourly_csv/temperature"),
        timed_row(measured, "6,144 weather seasons of 429 days generated", "weather_futures"),
        timed_row(measured, "warmth of three stages in them, hour by hour", "thermal_sums"),
        timed_row(measured, "beliefs turned into curves", "chain"),
        timed_row(measured, "6,144 futures drawn", "futures"),
    ]
    return table(["what", "target", "median", "fastest", "met"], rows)


def parts_table(measured):
    parts = ["warmth", "sowing dates", "seed number", "sessions and dates", "what not knowing costs"]
    both = [f"whole_answer/{threads}/iterations:1/real_time" for threads in (1, 2)]
    rows = [[part] + [f"{number(measured.counter(name, part))} ms" for name in both] for part in parts]
    return table(["part of the whole answer", "one core", "two cores"], rows)


def changes_table(measured):
    """A study that is warm, after one change of its goal."""
    asked = [("quick", 1, 50), ("exact", 1, None), ("exact", 2, 150), ("sweep", 1, None), ("sweep", 2, 700)]  # ms
    rows = []
    for change, what in CHANGES.items():
        row, late = [what], []
        for ask, threads, target in asked:
            once = "/iterations:1" if ask == "sweep" else ""
            median = measured.ms(f"after/{change}_{ask}/{threads}{once}/real_time")
            row.append(f"{number(median)} ms")
            if target and median > target:
                late.append(f"{ask} {median / target:.2f} times")
        rows.append(row + ["no: " + ", ".join(late) if late else "yes"])
    targets = ["target"] + [f"{target} ms" if target else "" for _, _, target in asked] + [""]
    return table(["changed", "quick answer", "exact number, one core", "two cores", "all sowing dates, one core", "two cores",
                  "met"], [targets] + rows)


def floor_lines(measured, counts):
    shares = float(counts["shares_a_future"])
    futures = int(counts["futures"])
    floor_ms = futures * FLOOR_SHARES * FLOOR_NS * 1e-6
    took = measured.ms("thermal_shares")
    bare = [measured.counter(f"bare_shares/{n}", "ns_a_share") for n in (1300, 16, 8)]
    inside = futures * shares * bare[0] * 1e-6
    return [
        f"The thermal shares take {shares:.0f} evaluations of the normal distribution a future (in calls of "
        f"{counts['shares_a_call']} on average). The loop alone takes "
        f"{bare[0]:.2f} ns each in runs of 1,300, {bare[1]:.2f} ns in runs of 16, {bare[2]:.2f} ns in runs of 8: "
        f"{number(inside)} ms of the {number(took)} ms for all futures at its best. The floor of {FLOOR_SHARES:,} evaluations at "
        f"{FLOOR_NS} ns would be {number(floor_ms)} ms: the whole is {took / floor_ms:.1f} times that."
    ]


def peers_table(measured, folder):
    ours = read_lines(folder, "strikebed")
    peers = [("numpy", read_lines(folder, "numpy")), ("numpy, rough normal", read_lines(folder, "numpy_rough")),
             ("R", read_lines(folder, "r"))]
    own_ms = measured.ms("season_as_peers")
    rows = [["Strikebed", ours["assurance_1000"], ours["assurance_450"], f"{number(measured.ms('thermal_shares'))} ms",
             f"{number(own_ms)} ms", "1"]]
    for name, peer in peers:
        whole = float(peer["whole_ms"])
        rows.append([name, peer["assurance_1000"], peer["assurance_450"], f"{number(float(peer['shares_ms']))} ms",
                     f"{number(whole)} ms", f"{whole / own_ms:.0f}"])
    versions = "; ".join(dict.fromkeys(peer["version"] for _, peer in peers))
    target = 25
    ratio = float(peers[0][1]["whole_ms"]) / own_ms
    verdict = "met" if ratio >= target else f"missed: {ratio:.0f} times"
    lines = table(["", "sure, 1,000 seeds", "sure, 450 seeds", "thermal shares", "whole season, 1,000 seeds",
                   "times Strikebed's time"], rows)
    return lines + ["", f"{versions}. Target: at least {target} times faster than numpy; {verdict}."]


def main():
    folder = sys.argv[1]
    measured = Measured(folder)
    machine = read_lines(folder, "machine")
    counts = read_lines(folder, "counts")
    lines = [
        f"Measured on {machine['date']} by `benchmarks/compare` on {machine['cores']} cores of {machine['processor']}, "
        f"{machine['compiler']}; medians of {machine['repetitions']} repetitions (peers: {machine['peer_runs']}); load "
        f"average {machine['load_before']} before and {machine['load_after']} after.",
        "", *strikebed_table(measured), "", *parts_table(measured), "", *changes_table(measured), "", *floor_lines(measured, counts), "",
        *peers_table(measured, folder),
    ]
    text = "\n".join(lines)
    print(text)
    if len(sys.argv) > 2:
        with open(sys.argv[2], encoding="utf-8") as file:
            before, rest = file.read().split(BEGIN)
        after = rest.split(END)[1]
        with open(sys.argv[2], "w", encoding="utf-8") as file:
            file.write(f"{before}{BEGIN}\n{text}\n{END}{after}")


if __name__ == "__main__":
    main()
