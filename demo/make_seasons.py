"""Makes the invented nursery of three seasons: the notes that a careful but human grower would take of them.

What truly happened comes from true_seasons.py. Here it is looked at, on evenings and Saturdays, by somebody who
misreads a stem now and then, overlooks some of the dead until the next count, and sometimes writes a thing down wrongly
and takes it back. The notes are entries of a daybook (docs/daybook-format.md), written as `strikebed export` writes
them:

    three-seasons.json       up to an evening in the middle of the third season
    third-season-rest.json   the rest of it, to be imported later
    seasons-truth.json       what truly happened

usage: make_seasons.py [FOLDER]     writes the files there; left out: beside this file
"""
import datetime
import hashlib
import json
import pathlib
import sys

import true_seasons as true
from true_seasons import day_of, number_of

PHONE, TABLET = "phone", "bench tablet"
DEVICE_MARKS = {PHONE: 74, TABLET: 201}
CODE_ALPHABET = "23456789FHKMRTWXY"
LEVEL_WEEKS = (6, 9, 12)  # after the strike, all cuttings of a batch are looked at for roots
NOTICED = 0.8             # chance that a dead one is seen, and noted, on a Saturday
CUT_SHARE = 0.7           # the first file ends when so many of the last season's batches had their first count
BASE_FORMS = {"square-cut": "radial", "slanting-cut": "single-root"}
STEM_MM = {"square-cut": 15, "slanting-cut": 25}

GOAL = """# The goal of an invented nursery.
species   = "pinus-thunbergii"
by        = {year}-10-01
count_at  = "weaned"
assurance = 0.90

[[want]]
base_form = "radial"
count     = 60

[[want]]
base_form = "single-root"
count     = 8

[place]
latitude    = 47.6
longitude   = -122.3
elevation_m = 20
time_zone   = "America/Los_Angeles"
weather     = "weather/seattle-2012-2015.csv"

[seedbed]
at_least = 18

[rates]
germination = {{ good = 41, of = 50 }}
standing    = {{ about = 0.90, low = 0.75, high = 0.97 }}
usable      = 0.88
take        = {{ about = 0.65, low = 0.30, high = 0.90 }}
weaning     = 0.88
grade       = {{ about = 0.80, low = 0.65, high = 0.90 }}

[sessions]
weekdays         = ["Saturday"]
cuttings_at_most = 48

[sowing]
not_before = {year}-03-10
"""

# What the program planned for these goals on 6 January of each year: seeds, first session, cuttings a Saturday.
PLANNED = {
    2024: (551, (4, 27), (5, 19, 39, 48, 48, 48, 48, 48, 25, 11, 4, 2)),
    2025: (545, (4, 26), (3, 16, 36, 48, 48, 48, 48, 48, 26, 12, 5, 2)),
    2026: (548, (4, 25), (2, 14, 34, 48, 48, 48, 48, 48, 30, 14, 6, 2, 1)),
}

POTTING_ML = {2024: 120000, 2025: 105000, 2026: 60000}

REMARKS = {  # month, day, hour, what; of things that no number says
    2024: [(3, 20, 10, "first hooks through the grit"),
           (4, 6, 9, "a corner of tray 2 stays wet, turned the tray round"),
           (5, 4, 13, "second blade, the first one crushed the stems"),
           (6, 29, 19, "doubled the shade cloth before the hot days"),
           (8, 17, 11, "slugs under the bench, bait of iron phosphate put out by its label"),
           (10, 1, 19, "more than wanted; next year fewer seeds would do")],
    2025: [(4, 5, 9, "shore 2024 stands thinner than ridge 2022"),
           (5, 17, 12, "one group without auxin, to see what it does"),
           (6, 14, 20, "away this Saturday, nothing struck"),
           (7, 12, 19, "fine sand washed out of two pots by the hose, filled up"),
           (9, 6, 10, "needles of the first pots pale, fed a day early")],
    2026: [(3, 8, 18, "only 360 seeds of shore 2024 left, the plan asks for more"),
           (5, 2, 13, "thin stems this year, many hardly thicker than a needle"),
           (6, 27, 19, "heat: misted by hand at noon as well"),
           (8, 15, 10, "roots out of the drain holes of most pots"),
           (10, 1, 20, "counted twice to be sure")],
}

MIST = ((5, 1, 45, 8), (6, 15, 30, 8), (7, 5, 20, 10), (8, 20, 45, 8), (9, 12, None, None))
WEANING_STEPS = ((0, "less_mist", 50), (4, "vented", 50), (8, "less_shade", 30), (11, "no_mist", None),
                 (14, "open_air", None), (18, "full_sun", 0), (20, "finished", None))


def offset_hours(day, hour):
    """America/Los_Angeles: summer time from the second Sunday of March to the first of November, each at 2 o'clock."""
    def sunday(month, at_least):
        first = datetime.date(day.year, month, at_least)
        return first + datetime.timedelta((6 - first.weekday()) % 7)
    begins, ends = sunday(3, 8), sunday(11, 1)
    is_summer = begins < day < ends or (day == begins and hour >= 2) or (day == ends and hour < 2)
    return -7 if is_summer else -8


class When:
    """A moment by the clock of the place; `minutes` since that day's midnight."""

    def __init__(self, number, minutes, seconds=0):
        self.local = datetime.datetime.combine(day_of(number), datetime.time()) + datetime.timedelta(
            minutes=minutes, seconds=seconds)

    def later(self, seconds):
        when = When(0, 0)
        when.local = self.local + datetime.timedelta(seconds=seconds)
        return when

    def text(self, milliseconds=0):
        offset = offset_hours(self.local.date(), self.local.hour)
        return f"{self.local:%Y-%m-%dT%H:%M:%S}.{milliseconds:03}-{-offset:02}:00"


def batch_code(mark, counter):
    """src/daybook/batch_code.hpp: mark of the device, counter, and a character that makes the weighted sum whole."""
    def digits(number):
        text = ""
        while number or len(text) < 2:
            text = CODE_ALPHABET[number % 17] + text
            number //= 17
        return text
    text = digits(mark) + digits(counter)
    total = sum(place * CODE_ALPHABET.index(letter) for place, letter in enumerate(reversed(text), 2))
    return text + CODE_ALPHABET[-total % 17]


def as_written(value):
    """A number with as few characters as it needs; all else as it is."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


class Daybook:
    """The entries, and what hands out ids and codes."""

    def __init__(self, chance):
        self.chance = chance
        self.entries = []  # (moment of writing, entry)
        self.counters = dict.fromkeys(DEVICE_MARKS, 0)

    def new_code(self, device):
        self.counters[device] += 1
        return batch_code(DEVICE_MARKS[device], self.counters[device] - 1)

    def note(self, when, kind, body, batch=None, device=PHONE, typed=None):
        """Writes an entry down, mostly at once, now and then in the evening. Its id."""
        entry_id = hashlib.sha256(f"{true.SEED} {len(self.entries)}".encode()).hexdigest()[:32]
        in_the_evening = device == PHONE and when.local.hour < 18 and self.chance.happens(0.08)
        lag = 3600 * (21 - when.local.hour) if in_the_evening else 0
        written = when.later(lag + 5 + self.chance.whole(85))
        entry = {"v": 1, "id": entry_id, "happened": when.text(), "written": written.text(self.chance.whole(1000)),
                 "who": "A.", "device": device}
        if batch:
            entry["batch"] = batch
        if typed:
            entry["typed"] = typed
        entry["kind"] = kind
        entry["body"] = {key: as_written(value) for key, value in body.items() if value is not None}
        self.entries.append((written.local, entry))
        return entry_id

    def withdraw(self, when, target, why=None, device=PHONE):
        return self.note(when, "withdrawn", {"target": target, "why": why}, device=device)


def document(entries):
    """As `strikebed export` writes it: an entry a line, in the order of ids."""
    lines = [json.dumps(entry, ensure_ascii=False, separators=(",", ":"))
             for entry in sorted(entries, key=lambda entry: entry["id"])]
    return '{"daybook":1,\n"entries":[\n' + ",\n".join(lines) + "\n]}\n"


class Batch:
    """A batch as the grower knows it: its name, and who of its dead has not been written down yet."""

    def __init__(self, entry_id, code):
        self.id, self.code = entry_id, code
        self.seen_dead = set()

    def dead_unseen(self, plants, died_by):
        return [one for one in plants if died_by(one) and id(one) not in self.seen_dead]

    def a_level_was_taken(self, plants, died_by):
        """What is dead is in the count from now on, noted or not."""
        self.seen_dead |= {id(one) for one in plants if died_by(one)}


class Grower:
    """Looks at what truly happened, and notes it."""

    def __init__(self, truth):
        self.truth, self.climate = truth, truth.climate
        self.chance = true.Chance(true.SEED + 1)
        self.book = Daybook(self.chance)
        self.lots, self.bottles = {}, {}
        self.slipped = False    # has written a count of emergence wrongly, which happens once
        self.first_counts = {}  # by year: the days on which batches had their first count of roots

    def take_notes(self):
        for season in self.truth.seasons:
            self.first_counts[season.plan.year] = []
            self._winter_desk(season)
            self._stores(season)
            trays = self._sow(season)
            self._watch_trays(season, trays)
            self._benches(season)
            pots = self._sessions(season, trays)
            for number, (batch, one) in enumerate(pots):
                self._watch_pots(season, batch, one, number)
            self._end_of_season(season, pots)

    # At the desk

    def _winter_desk(self, season):
        """The goal and the plan, on 6 January."""
        year = season.plan.year
        day = season.day((1, 6))
        goal = self.book.note(When(day, 19 * 60 + 10), "goal_set",
                              {"name": f"autumn {year}", "goal_toml": GOAL.format(year=year)})
        seeds, first, cuttings = PLANNED[year]
        first_session = season.day(first)
        self.book.note(When(day, 19 * 60 + 16), "plan_chosen", {
            "goal": goal, "seeds": seeds, "assurance": 0.9,
            "sowings": [{"on": season.plan.sown.isoformat(), "seeds": seeds}],
            "sessions": [{"on": day_of(first_session + 7 * n).isoformat(), "cuttings": one}
                         for n, one in enumerate(cuttings)]})
        for month, day, hour, text in REMARKS[year]:
            self.book.note(When(season.day((month, day)), hour * 60 + self.chance.whole(50)), "remark", {"text": text})

    def _lot(self, day, name, body, good):
        self.lots[name] = self.book.note(When(day, 18 * 60 + 5), "lot_received",
                                         {"name": name, "species": "pinus-thunbergii"} | body)
        self.book.note(When(day + 4, 20 * 60), "lot_tested",
                       {"lot": self.lots[name], "good": good, "of": 50, "days": 21, "temperature_c": 22})

    def _stores(self, season):
        """Lots, bottles and bags come; what is mixed for the season."""
        year, note = season.plan.year, self.book.note
        if year == 2024:
            day = season.day((1, 7))
            self._lot(day, "ridge 2022", {"origin": "own trees on the ridge", "year": 2022, "seeds": 900}, 41)
            for what, name, body in (
                    ("solution", "auxin concentrate", {"volume_ml": 250, "strength": "1 % IBA + 0.5 % NAA",
                                                       "use_by": "2027-01-31"}),
                    ("disinfectant", "bleach", {"volume_ml": 2000, "strength": "5 % hypochlorite"}),
                    ("feed", "feed powder", {"mass_g": 1000, "strength": "20-20-20"}),
                    ("medium", "grit 3-4 mm", {"volume_ml": 350000}),
                    ("medium", "fired clay 2-4 mm", {"volume_ml": 175000}),
                    ("medium", "coarse sand", {"volume_ml": 60000})):
                self.bottles[name] = note(When(day, 18 * 60 + 20), "stock_received",
                                          {"what": what, "name": name} | body)
        if year == 2025:
            self._lot(season.day((1, 9)), "shore 2024", {"origin": "bought in, coast", "year": 2024, "seeds": 705}, 37)
        self.bottles["cutting mix"] = self._mix_medium(season, (4, 13), f"cutting mix {year}", 45000)
        self.bottles["potting mix"] = self._mix_medium(season, (7, 1), f"potting mix {year}", POTTING_ML[year])
        wash = note(When(season.day((4, 14)), 17 * 60), "mixed", {
            "what": "disinfectant", "name": f"pot wash {year}", "volume_ml": 5000, "active_pct": 0.5,
            "used": [{"stock": self.bottles["bleach"], "volume_ml": 500}]})
        self._emptied(When(season.day((4, 14)), 20 * 60), wash)

    def _mix_medium(self, season, month_and_day, name, volume_ml):
        return self.book.note(When(season.day(month_and_day), 11 * 60), "mixed", {
            "what": "medium", "name": name, "volume_ml": volume_ml,
            "used": [{"stock": self.bottles["grit 3-4 mm"], "volume_ml": volume_ml * 2 // 3},
                     {"stock": self.bottles["fired clay 2-4 mm"], "volume_ml": volume_ml // 3}],
            "recipe": "2 grit, 1 fired clay, rinsed"})

    def _emptied(self, when, bottle, device=PHONE):
        """Used up or thrown away."""
        return self.book.note(when, "stock_counted", {"stock": bottle, "volume_ml": 0}, device=device)

    # In the tray

    def _sow(self, season):
        """Into the cold 45 days before, then into the heated bed; the trays as batches."""
        trays = []
        for number, sowing in enumerate(season.plan.sowings):
            chilled, sown = (When(number_of(season.plan.sown) - days, hour * 60 + 4 * number)
                             for days, hour in ((45, 18), (0, 17)))
            code = self.book.new_code(PHONE)
            batch = Batch(self.book.note(chilled, "batch_started", {
                "code": code, "label": f"{sowing.label} {season.plan.year}", "holds": "seeds",
                "lot": self.lots[sowing.lot], "number": sowing.seeds}), code)
            self.book.note(chilled.later(30), "chilled", {"days": 45, "temperature_c": 4}, batch.id)
            self.book.note(sown, "sown", {"depth_mm": 6, "bench": "heated bed", "container": "flat of 12 l"}, batch.id)
            trays.append(batch)
        return trays

    def _watch_trays(self, season, trays):
        """Counts as they come up; then, on Friday evenings, the signs of all."""
        sown = number_of(season.plan.sown)
        for number, batch in enumerate(trays):
            seedlings = season.trays[number]
            last = -1
            for day in range(sown + 9, sown + true.FIRST_TRAY_CLOSED_DAYS, 3):
                up = sum(one.up < day for one in seedlings)
                if up > 0 and up != last:
                    is_slip = season.plan.year == 2024 and number == 1 and 90 < up < 150
                    self._count_up(day, number, batch, up, is_slip)
                last = up
                self._note_dead(batch, day, 8 * 60, seedlings, self._lost_by(day))
            closed = sown + true.FIRST_TRAY_CLOSED_DAYS
            self.book.note(When(closed, 18 * 60 + 5 * number), "lost",
                           {"number": season.plan.sowings[number].seeds - len(seedlings), "cause": "never_came_up"},
                           batch.id)
            end = season.sessions[-1][0]
            for day in range(closed, end + 1):
                if day_of(day).weekday() == 4:
                    self._count_signs(season, day, number, batch)
                elif day_of(day).weekday() == 1:
                    self._note_dead(batch, day, 19 * 60, seedlings, self._lost_by(day))
            self._clear(end + 1, batch, seedlings)

    def _count_up(self, day, number, batch, up, is_slip):
        """How many have come up; once, it is written down wrongly."""
        when = When(day, 7 * 60 + 10 + 4 * number)
        if is_slip and not self.slipped:
            self.slipped = True
            wrong = self.book.note(when, "counted", {"emerged": up // 10}, batch.id,
                                   typed=f"count {batch.code} emerged {up // 10}")
            self.book.withdraw(when.later(50), wrong, "a figure missing")
            when = when.later(90)
        self.book.note(when, "counted", {"emerged": up}, batch.id, typed=f"count {batch.code} emerged {up}")

    @staticmethod
    def _lost_by(day):
        return lambda one: one.lost is not None and one.lost <= day

    def _note_dead(self, batch, day, minutes, plants, died_by):
        """Those that are seen, cause by cause."""
        causes = {}
        for one in batch.dead_unseen(plants, died_by):
            if self.chance.happens(NOTICED):
                batch.seen_dead.add(id(one))
                cause = "unknown" if self.chance.happens(0.08) else one.cause
                causes[cause] = causes.get(cause, 0) + 1
        for cause, number in causes.items():
            self.book.note(When(day, minutes + self.chance.whole(20)), "lost", {"number": number, "cause": cause},
                           batch.id, typed=f"lost {batch.code} {number} {cause}")

    def _count_signs(self, season, day, number, batch):
        """All four signs, each stem misread now and then as a neighbour of what it is."""
        warmth = self.climate.ripening[day + 1]
        counts = [0, 0, 0, 0]
        for one in season.trays[number]:
            if self._lost_by(day)(one) or (one.taken is not None and one.taken <= day):
                continue
            sign = one.sign(warmth)
            if self.chance.happens(true.MISREAD):
                sign = {0: 1, 3: 2}.get(sign, sign + (1 if self.chance.happens(0.5) else -1))
            counts[sign] += 1
        signs = dict(zip(true.SIGNS, counts))
        self.book.note(When(day, 18 * 60 + 20 + 12 * number), "counted", signs, batch.id,
                       typed=f"count {batch.code} " + " ".join(f"{sign} {count}" for sign, count in signs.items()))
        batch.a_level_was_taken(season.trays[number], self._lost_by(day))

    def _clear(self, day, batch, seedlings):
        """The tray is emptied: who is left was too late."""
        left = sum(one.taken is None and id(one) not in batch.seen_dead for one in seedlings)
        if left:
            self.book.note(When(day, 10 * 60), "lost", {"number": left, "cause": "too_late"}, batch.id)

    # At the bench

    def _sessions(self, season, trays):
        """Saturdays, group by group; the batches of cuttings, with what is truly in them."""
        found = []
        for number, (day, groups) in enumerate(season.sessions):
            solution = self._dip(day)
            here = {}
            for pots in (one for one in season.pots if one.session == number):
                method = "control" if pots.is_control else pots.method
                sources = sorted({group.tray for group in groups if group.method == method and group.cuttings})
                here[method] = self._new_pots(day, pots, [trays[tray] for tray in sources])
                found.append((here[method], pots))
            minutes = 9 * 60
            for n, group in enumerate(groups):
                is_slip = season.plan.year == 2025 and number == 2 and n == 3
                minutes += self._strike(When(day, minutes), trays[group.tray], here, group, solution, is_slip)
            self._emptied(When(day, minutes + 12), solution, TABLET)
            if "control" in here:
                self.book.note(When(day, minutes), "control_set_aside",
                               {"number": len(groups[0].cuttings), "without": "auxin"}, here["control"].id, TABLET)
        return found

    def _dip(self, day):
        """Fresh for each session."""
        return self.book.note(When(day, 8 * 60 + 30), "mixed", {
            "what": "solution", "name": f"dip 650 of {day_of(day)}", "volume_ml": 100, "auxin_ppm": 650,
            "alcohol_pct": 3.3, "used": [{"stock": self.bottles["auxin concentrate"], "volume_ml": 4.2}]},
            device=TABLET)

    def _new_pots(self, day, pots, sources):
        code = self.book.new_code(TABLET)
        label = "no auxin" if pots.is_control else "square" if pots.method == "square-cut" else "slanting"
        entry = self.book.note(When(day, 8 * 60 + 50), "batch_started", {
            "code": code, "label": f"{label} {day_of(day):%d.%m.%y}", "holds": "cuttings",
            "from": [{"batch": one.id, "number": 0} for one in sources]}, device=TABLET)
        self.book.note(When(day, 8 * 60 + 52), "moved", {"bench": "mist bench"}, entry, TABLET)
        return Batch(entry, code)

    def _strike(self, start, tray, here, group, solution, is_slip):
        """One group; the minutes that it took."""
        struck = len(group.cuttings)
        offered = struck + group.rejected + group.broken + group.left_waiting
        method = "square-cut" if group.method == "control" else group.method
        target = here.get(group.method) or next(iter(here.values()))
        seconds = 60 + (30 if method == "square-cut" else 55) * struck + self.chance.whole(90)
        end = start.later(seconds)
        body = {"into": target.id, "offered": offered, "rejected": group.rejected, "broken": group.broken,
                "struck": struck, "left_waiting": group.left_waiting, "method": method,
                "solution": None if group.method == "control" else solution,
                "soak_s": 60 if struck else None, "stem_length_mm": STEM_MM[method] if struck else None,
                "start": start.text(), "end": end.text()}
        if is_slip:
            slip = body | {"offered": offered + 3, "struck": struck + 3}
            wrong = self.book.note(end, "struck", slip, tray.id, TABLET)
            self.book.withdraw(end.later(40), wrong, "six, not nine", TABLET)
        self.book.note(end.later(60 if is_slip else 0), "struck", body, tray.id, TABLET)
        return (seconds + 150) // 60

    # On the benches

    def _benches(self, season):
        """Mist, feed, temperatures."""
        for month, day, every, burst in MIST:
            self.book.note(When(season.day((month, day)), 7 * 60 + 40), "misting_changed",
                           {"bench": "mist bench", "every_min": every, "burst_s": burst})
        for month in (7, 8, 9):
            feed = self.book.note(When(season.day((month, 5)), 18 * 60), "mixed", {
                "what": "feed", "name": f"feed {season.plan.year}-{month:02}", "volume_ml": 8000, "ec_ms_cm": 0.8,
                "ph": 6, "used": [{"stock": self.bottles["feed powder"], "mass_g": 5}]})
            for day in (5, 19):
                self.book.note(When(season.day((month, day)), 18 * 60 + 20), "fed",
                               {"bench": "shade bench", "feed": feed, "volume_ml": 4000, "ec_ms_cm": 0.8})
        for day in range(season.day((4, 29)), season.day((9, 15)), 7):
            hour = 14
            self.book.note(When(day, hour * 60 + self.chance.whole(40)), "measured", {
                "bench": "mist bench",
                "air_temperature_c": round(self.climate.air[day][hour] + 0.4 * self.chance.normal(), 1),
                "medium_temperature_c": round(self.climate.medium[day][hour] + 0.3 * self.chance.normal(), 1),
                "humidity_pct": 62 + self.chance.whole(30)})

    def _watch_pots(self, season, batch, pots, number):
        """Saturdays: who died; after four weeks some lifted; levels; weaning, potting; the sorting in September."""
        sorted_on = season.day(true.SORTED_ON)
        levels = [pots.day + 7 * weeks for weeks in LEVEL_WEEKS if pots.day + 7 * weeks < sorted_on]
        self.first_counts[season.plan.year].append(levels[0])
        for day in range(pots.day + 7, season.day(true.GOAL_ON), 7):
            self._note_dead(batch, day, 16 * 60, pots.cuttings, self._dead_by(day))
            if day == pots.day + 28:
                self._lift(day, batch, pots)
            if day in levels:
                is_double = season.plan.year == 2025 and number == 5 and day == levels[0]
                self._count_roots(day, batch, pots, is_double)
            if day < sorted_on <= day + 6:
                self._sort(sorted_on, batch, pots)
        self._wean(batch, pots, is_slip=season.plan.year == 2024 and number == 3)

    @staticmethod
    def _dead_by(day):
        return lambda one: one.dead is not None and one.dead <= day and one.lifted is None and one.cause != "too_late"

    def _lift(self, day, batch, pots):
        lifted = [one for one in pots.cuttings if one.lifted == day]
        if lifted:
            rooted = sum(one.has_roots(day) for one in lifted)
            self.book.note(When(day, 16 * 60 + 40), "counted", {
                "rooted": rooted, "undecided": len(lifted) - rooted, "of": len(lifted), "sample": True,
                "destructive": True}, batch.id)

    def _count_roots(self, day, batch, pots, is_double=False):
        """Roots at the drain holes or at a gentle tug; who is green and has none is undecided."""
        living = [one for one in pots.alive(day) if one.lifted is None]
        rooted = sum(one.has_roots(day) for one in living)
        body = {"rooted": rooted, "undecided": len(living) - rooted}
        typed = f"count {batch.code} rooted {rooted} undecided {len(living) - rooted}"
        when = When(day, 17 * 60 + self.chance.whole(50))
        self.book.note(when, "counted", body, batch.id, typed=typed)
        if is_double:  # somebody had the tablet in hand as well
            self.book.note(when.later(240), "counted", body, batch.id, TABLET)
        batch.a_level_was_taken(pots.cuttings, self._dead_by(day))

    def _sort(self, day, batch, pots):
        """Who has no roots by now is thrown away."""
        self._count_roots(day, batch, pots)
        late = sum(one.cause == "too_late" for one in pots.cuttings)
        if late:
            self.book.note(When(day, 19 * 60), "lost", {"number": late, "cause": "too_late"}, batch.id,
                           typed=f"lost {batch.code} {late} too_late")

    def _wean(self, batch, pots, is_slip):
        """Step by step, each batch as a whole."""
        for days, step, shade in WEANING_STEPS:
            when = When(pots.weaning_from + days, 19 * 60 + self.chance.whole(30))
            if is_slip and step == "less_shade":
                wrong = self.book.note(when, "weaning_step", {"step": "full_sun", "shade_pct": 0}, batch.id)
                self.book.withdraw(when.later(75), wrong, "not yet")
                when = when.later(120)
            self.book.note(when, "weaning_step", {"step": step, "shade_pct": shade}, batch.id)
            bench = {"less_shade": "shade bench", "full_sun": "open bench"}.get(step)
            if bench:
                self.book.note(when.later(60), "moved", {"bench": bench}, batch.id)
        day = pots.weaning_from + true.TIMES["weaning_days"]
        rooted = sum(one.has_roots(day) for one in pots.alive(day) if one.lifted is None)
        if rooted:
            self.book.note(When(day, 20 * 60), "potted", {
                "number": rooted, "container": "square pot 9 cm", "volume_ml": 480,
                "medium": self.bottles["potting mix"]}, batch.id)

    # What came of it

    def _end_of_season(self, season, pots):
        """Counted and graded on the goal's day; what is left of seed and bottles; who came through the winter."""
        day = season.day(true.GOAL_ON)
        for batch, one in pots:
            self._count_and_grade(day, batch, one)
        self._stocktaking(season)
        if season.plan.year < true.LAST.year:
            for number, (batch, one) in enumerate(pots):
                self._spring(season.day(true.SPRING_ON, 1), batch, one, 5 * number)

    def _count_and_grade(self, day, batch, pots):
        standing = [one for one in pots.alive(day) if one.lifted is None]
        when = When(day, 16 * 60 + self.chance.whole(100))
        self.book.note(when, "counted", {"alive": len(standing)}, batch.id,
                       typed=f"count {batch.code} alive {len(standing)}")
        batch.a_level_was_taken(pots.cuttings, self._dead_by(day))
        if standing:
            is_radial = pots.method == "square-cut"
            self.book.note(when.later(90), "graded", {
                "base_form": BASE_FORMS[pots.method], "fit": sum(one.is_good for one in standing), "of": len(standing),
                "largest_gap_deg": 70 + self.chance.whole(60) if is_radial else None,
                "roots": 5 + self.chance.whole(4) if is_radial else 1 + self.chance.whole(2)}, batch.id)

    def _stocktaking(self, season):
        """In the first week of October. The eye reads the bottle to 5 ml."""
        day = season.day((10, 5))
        used = sum(4.2 * len(one.sessions) for one in self.truth.seasons if one.plan.year <= season.plan.year)
        self.book.note(When(day, 11 * 60), "stock_counted",
                       {"stock": self.bottles["auxin concentrate"], "volume_ml": 5 * int((250 - used) / 5)})
        struck = sum(len(pots.cuttings) for pots in season.pots)  # four to a pot of 480 ml
        self.book.note(When(day, 11 * 60 + 5), "stock_counted",
                       {"stock": self.bottles["cutting mix"], "volume_ml": max(0, 45000 - 500 * (struck // 4))})
        if season.plan.year == 2025:
            self.book.note(When(day, 11 * 60 + 10), "stock_counted", {"stock": self.lots["ridge 2022"], "seeds": 0})
            words = self.book.note(When(day, 11 * 60 + 12), "remark", {"text": "the last of ridge 2022 gone mouldy"})
            taken_back = self.book.withdraw(When(day, 11 * 60 + 14), words, "another bag")
            self.book.withdraw(When(day, 11 * 60 + 20), taken_back, "it was that bag after all")

    def _spring(self, day, batch, pots, minutes):
        """Who came through; most are sold then, a few given away."""
        standing = [one for one in pots.alive(day) if one.lifted is None]
        alive = sum(one.survives_winter for one in standing)
        if len(standing) > alive:
            self.book.note(When(day, 9 * 60 + minutes), "lost", {"number": len(standing) - alive, "cause": "winter"},
                           batch.id, typed=f"lost {batch.code} {len(standing) - alive} winter")
        if standing:
            self.book.note(When(day, 9 * 60 + minutes + 2), "counted", {"alive": alive}, batch.id,
                           typed=f"count {batch.code} alive {alive}")
        if alive > 4:
            self.book.note(When(day + 14, 10 * 60 + minutes), "handed_over",
                           {"number": alive * 2 // 3, "how": "sold"}, batch.id)
            self.book.note(When(day + 15, 10 * 60 + minutes), "handed_over",
                           {"number": 1, "how": "given", "to": "a neighbour"}, batch.id)


def truth_document(truth, grower, cut):
    """What is known because it is invented; numbers to five digits."""
    def short(value):
        if isinstance(value, float):
            return float(f"{value:.5g}")
        if isinstance(value, dict):
            return {key: short(one) for key, one in value.items()}
        return [short(one) for one in value] if isinstance(value, (list, tuple)) else value

    seasons = {}
    for season in truth.seasons:
        sessions = [{"on": day_of(day).isoformat(), "struck": sum(len(group.cuttings) for group in groups)} | effect
                    for (day, groups), effect in zip(season.sessions, season.effects["sessions"])]
        seasons[str(season.plan.year)] = {
            "sown_on": season.plan.sown.isoformat(), "counts": true.sums_of(season),
            "batch_rates": {key: value for key, value in season.effects.items() if key != "sessions"},
            "sessions": sessions}
    return json.dumps(short({
        "about": "Invented. What truly happened in the nursery of three-seasons.json; see README.md.",
        "weather": {year: str(int(year) - true.YEARS_BACK) for year in seasons},
        "first_file_ends": cut.text(),
        "long_run_rates": {"germination": true.GERMINATION} | true.RATES,
        "batch_spreads": true.BATCH_SPREADS, "control_odds": true.CONTROL_ODDS, "times": true.TIMES,
        "sign_ratios": dict(zip(true.SIGNS[1:], true.SIGN_RATIOS)), "misread_as_neighbour": true.MISREAD,
        "strike_place": true.STRIKE_PLACE, "dead_noticed_on_a_saturday": NOTICED, "seasons": seasons}), indent=1) + "\n"


def weather_of_the_seasons():
    """The real record, and behind it the days of the three seasons, which are some of the same days again."""
    head, *days = true.WEATHER.read_text(encoding="utf-8").splitlines()
    by_date = {day[:10]: day[10:] for day in days}
    first, last = datetime.date(2024, 1, 1), datetime.date(2026, 12, 31)
    for number in range((last - first).days + 1):
        day = first + datetime.timedelta(number)
        days.append(f"{day}{by_date[str(true.day_of_record(day))]}")
    return "\n".join([head, *days]) + "\n"


def main():
    folder = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else true.HERE
    truth = true.Truth()
    grower = Grower(truth)
    grower.take_notes()
    counts = sorted(grower.first_counts[truth.seasons[-1].plan.year])
    cut = When(counts[round(CUT_SHARE * len(counts)) - 1], 23 * 60)
    entries = grower.book.entries
    texts = {
        "three-seasons.json": document(entry for written, entry in entries if written <= cut.local),
        "third-season-rest.json": document(entry for written, entry in entries if written > cut.local),
        "seasons-truth.json": truth_document(truth, grower, cut),
        "weather/with-the-three-seasons.csv": weather_of_the_seasons()}
    (folder / "weather").mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
        print(f"{name}: {len(text.encode())} bytes, {text.count(chr(10))} lines")


if __name__ == "__main__":
    main()
