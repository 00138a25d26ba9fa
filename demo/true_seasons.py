"""What truly happened in the invented nursery: three seasons, every seed followed on its own from the cold to the pot.

The chain is that of docs/methods/season.md, germination-and-ripening.md, thermal-time.md, hourly-temperature.md,
position.md and cold.md, written from these pages and from nothing else of the program, so that what the program says of
the seasons can be held against it. make_seasons.py takes the notes.

The weather is real, and of other years: the days of 2013, 2014 and 2015 stand for 2024, 2025 and 2026 (29 February
2024 has the weather of 28 February 2013). All else is invented. Temperatures in degrees Celsius, thermal times in
degree-days (°C d), ages in days, rates as shares.
"""
import bisect
import csv
import dataclasses
import datetime
import math
import pathlib
import random
import tomllib

HERE = pathlib.Path(__file__).resolve().parent
WEATHER = HERE / "weather" / "seattle-2012-2015.csv"
SPECIES = HERE.parent / "profiles" / "species" / "pinus-thunbergii.toml"
LATITUDE = 47.6
YEARS_BACK = 11  # a day's weather is that of so many years before
FIRST = datetime.date(2024, 1, 1)
LAST = datetime.date(2026, 12, 30)
SEED = 20240106

# What this grower's work comes to in the long run, and how batches differ about it (sd of the logit).
GERMINATION = {"ridge 2022": 0.81, "shore 2024": 0.73}
RATES = {"standing": 0.91, "usable": 0.86, "take": 0.66, "weaning": 0.88, "winter": 0.90, "grade": 0.79}
BATCH_SPREADS = {"germination": 0.3, "standing": 0.5, "usable": 0.3, "take": 0.5, "weaning": 0.4, "winter": 0.5,
                 "grade": 0.3}
CONTROL_ODDS = 0.3  # of a take without auxin, relative to one with it

# Medians and spreads (sd of the natural logarithm).
TIMES = {"cover_time": 62, "germination_time": 121, "germination_spread": 0.30, "ripening_time": 445,
         "ripening_spread": 0.23, "window_end_time": 1080, "edge_odds": 0.55, "rooting_time": 365,
         "rooting_spread": 0.31, "loss_half_age_days": 12, "unrooted_half_age_days": 42, "unrooted_spread": 0.5,
         "weaning_days": 20}
SIGNS = ("green", "turning", "red", "faded")
SIGN_RATIOS = (0.78, 1.0, 2.0)  # of the warmth a seedling had to that it demands: turning, red, faded from here on
MISREAD = 0.15                  # chance that a sign is read as a neighbour
STRIKE_PLACE = 0.25             # in its window a seedling is struck at the session nearest to this place
ROOM = 48                       # cuttings a session
GROUP = 6                       # cuttings that go through the solution together
BROKEN = 0.15                   # of the seedlings that are not usable, the share that breaks in the hand
SORTED_ON = (9, 11)             # who has no roots by this day has no time left to be weaned, and is thrown away
GOAL_ON = (10, 1)
SPRING_ON = (4, 5)              # who is alive on this day came through the winter
FIRST_TRAY_CLOSED_DAYS = 34     # after sowing; all that come up are up by then

SEEDLING_CAUSES = (("rotted", 0.6), ("eaten", 0.15), ("dried", 0.15), ("unknown", 0.1))
CUTTING_CAUSES = (("dried", 0.45), ("rotted", 0.35), ("burnt", 0.1), ("unknown", 0.1))
WEANING_CAUSES = (("dried", 0.6), ("burnt", 0.15), ("handling", 0.15), ("rotted", 0.1))


@dataclasses.dataclass(frozen=True)
class Sowing:
    """Seeds of one lot in one tray."""
    lot: str
    seeds: int
    label: str


@dataclasses.dataclass(frozen=True)
class SeasonPlan:
    """What the grower set out to do in a year."""
    year: int
    sown: datetime.date
    sowings: tuple
    slanting: tuple        # numbers of the sessions whose last two groups are cut slanting
    lifted: tuple          # numbers of the sessions of which cuttings are lifted after four weeks, to look
    control: int | None    # number of the session whose first group gets no auxin
    away: tuple            # Saturdays without a session


PLANS = (
    SeasonPlan(2024, datetime.date(2024, 3, 10),
               (Sowing("ridge 2022", 280, "tray 1"), Sowing("ridge 2022", 271, "tray 2")), (1, 3), (1, 4), None, ()),
    SeasonPlan(2025, datetime.date(2025, 3, 10),
               (Sowing("ridge 2022", 250, "tray 1"), Sowing("shore 2024", 295, "tray 2")), (1, 3, 4), (2, 5), 3,
               (datetime.date(2025, 6, 14),)),
    SeasonPlan(2026, datetime.date(2026, 3, 10),
               (Sowing("shore 2024", 200, "tray 1"), Sowing("shore 2024", 160, "tray 2")), (1, 2, 3), (1, 3), None, ()),
)


class Chance:
    """Random numbers that are the same with every version of Python: all come from random.random alone."""

    def __init__(self, seed):
        self.uniform = random.Random(seed).random

    def happens(self, chance):
        return self.uniform() < chance

    def normal(self):
        return math.sqrt(-2 * math.log(1 - self.uniform())) * math.cos(2 * math.pi * self.uniform())

    def whole(self, below):
        return int(self.uniform() * below)

    def shuffled(self, items):
        return [item for _, item in sorted(((self.uniform(), n), item) for n, item in enumerate(items))]

    def one_of(self, shares):
        left = self.uniform()
        for word, share in shares:
            left -= share
            if left < 0:
                return word
        return shares[-1][0]


def moved(rate, by):
    """A share moved on the logit scale."""
    return 1 / (1 + (1 / rate - 1) * math.exp(-by))


def day_length(day):
    """Hours from sunrise to sunset: declination by Cooper's formula, the sun's upper rim at the horizon."""
    declination = math.radians(23.45) * math.sin(2 * math.pi * (284 + day.timetuple().tm_yday) / 365)
    latitude = math.radians(LATITUDE)
    cosine = (math.sin(math.radians(-0.833)) - math.sin(latitude) * math.sin(declination)) / (
        math.cos(latitude) * math.cos(declination))
    return 2 * math.degrees(math.acos(cosine)) / 15


def two_limbs(base, optimum, ceiling):
    """The response of germination and ripening (docs/methods/thermal-time.md)."""
    def response(degrees):
        if degrees <= base or degrees >= ceiling:
            return 0.0
        return (degrees - base) / (optimum - base) if degrees < optimum else (ceiling - degrees) / (ceiling - optimum)
    return response


def smooth(base, optimum, ceiling):
    """The response of rooting."""
    bend = math.log(2) / math.log((ceiling - base) / (optimum - base))

    def response(degrees):
        if degrees <= base or degrees >= ceiling:
            return 0.0
        x = ((degrees - base) / (optimum - base)) ** bend
        return max(x * (2 - x), 0.0)
    return response


def day_of_record(day):
    """The real day whose weather comes true."""
    year = day.year - YEARS_BACK
    return datetime.date(year, 2, 28) if (day.month, day.day) == (2, 29) else day.replace(year=year)


class Climate:
    """The air by the hour, and the three clocks: warmth by the morning of each day since FIRST."""

    def __init__(self):
        with WEATHER.open(encoding="utf-8", newline="") as file:
            self._real = {row["date"]: (float(row["temp_min"]), float(row["temp_max"])) for row in csv.DictReader(file)}
        species = tomllib.loads(SPECIES.read_text(encoding="utf-8"))
        self.frost_half = species["cutting_frost_c"]["value"]
        self.idle_loss = species["idle_loss"]["value"]
        short = (species["standstill_day_h"]["value"], species["shortest_day_h"]["value"])
        days = [FIRST + datetime.timedelta(n) for n in range((LAST - FIRST).days + 1)]
        air = [self._hours(day) for day in days]
        bed = [[max(degrees, 18.0) for degrees in hours] for hours in air]
        self.medium = self._lagged(air, sum(self.extremes(days[0])) / 2)
        light = [min(max((day_length(day) - short[0]) / (short[1] - short[0]), 0), 1) for day in days]
        self.germination = self._clock(bed, species["germination_temperature"], two_limbs)
        self.ripening = self._clock(bed, species["ripening_temperature"], two_limbs, light)
        self.rooting = self._clock(self.medium, species["rooting_temperature"], smooth)
        self.air = air

    def extremes(self, day):
        """The lowest and the highest temperature."""
        return self._real[day_of_record(day).isoformat()]

    def _hours(self, day):
        """docs/methods/hourly-temperature.md, at the middle of each hour."""
        one = datetime.timedelta(1)
        low, high = self.extremes(day)
        next_low, last_high = self.extremes(day + one)[0], self.extremes(day - one)[1]
        light = day_length(day)
        sunset = 12 + light / 2

        def by_day(hour, top):
            return low + (top - low) * math.sin(math.pi * (hour - 12 + light / 2 + 0.17) / (light + 3.72))

        def by_night(since_sunset, from_degrees, to_degrees):
            return to_degrees + (from_degrees - to_degrees) * math.exp(-2.2 * since_sunset / (24 - light))

        hours = []
        for hour in (n + 0.5 for n in range(24)):
            if hour < 12 - light / 2 - 0.17:
                hours.append(by_night(hour + 24 - sunset, by_day(sunset, last_high), low))
            elif hour <= sunset:
                hours.append(by_day(hour, high))
            else:
                hours.append(by_night(hour - sunset, by_day(sunset, high), next_low))
        return hours

    @staticmethod
    def _lagged(air, degrees):
        """The medium on the bench: five hours behind the air."""
        medium = []
        for hours in air:
            medium.append([])
            for outside in hours:
                degrees += (1 - math.exp(-1 / 5)) * (outside - degrees)
                medium[-1].append(degrees)
        return medium

    @staticmethod
    def _clock(hours_of_days, cardinal, curve, light=None):
        base, optimum, ceiling = (cardinal[key]["value"] for key in ("base", "optimum", "ceiling"))
        response = curve(base, optimum, ceiling)
        clock = [0.0]
        for n, hours in enumerate(hours_of_days):
            warmth = sum(response(degrees) for degrees in hours) * (optimum - base) / 24
            clock.append(clock[-1] + warmth * (light[n] if light else 1))
        return clock


def number_of(day):
    return (day - FIRST).days


def day_of(number):
    return FIRST + datetime.timedelta(number)


@dataclasses.dataclass
class Seedling:
    tray: int
    up: int                    # the day on which it comes up
    clock: float               # of ripening, the morning after
    demand: float              # warmth until its window opens
    lost: int | None = None    # the day on which it dies in the tray
    cause: str = ""
    taken: int | None = None   # the day on which it leaves the tray: struck, passed over or broken

    def place(self, warmth, ratio):
        """In its window: 0 as it opens, 1 as it closes."""
        return (warmth - self.clock - self.demand) / (self.demand * (ratio - 1))

    def sign(self, warmth):
        return bisect.bisect_right(SIGN_RATIOS, (warmth - self.clock) / self.demand)


@dataclasses.dataclass
class Cutting:
    rooted: int | None = None  # the morning by which it has roots; none: never
    dead: int | None = None    # the morning on which it is found dead
    cause: str = ""
    weaned: int | None = None
    is_good: bool = False
    survives_winter: bool = False
    lifted: int | None = None  # the day on which it was used up to look at its roots

    def is_alive(self, day):
        return (self.dead is None or self.dead > day) and (self.lifted is None or self.lifted >= day)

    def has_roots(self, day):
        return self.rooted is not None and self.rooted <= day


@dataclasses.dataclass
class Group:
    """What went through the solution together, of one tray."""
    tray: int
    method: str
    cuttings: list
    rejected: int = 0
    broken: int = 0
    left_waiting: int = 0


@dataclasses.dataclass
class Pots:
    """The cuttings of one session and method: a batch."""
    session: int
    day: int
    method: str
    is_control: bool
    cuttings: list
    weaning_from: int = 0

    def alive(self, day):
        return [one for one in self.cuttings if one.is_alive(day)]


@dataclasses.dataclass
class Season:
    plan: SeasonPlan
    trays: list = dataclasses.field(default_factory=list)     # of each: its seedlings
    sessions: list = dataclasses.field(default_factory=list)  # (day, groups)
    pots: list = dataclasses.field(default_factory=list)
    effects: dict = dataclasses.field(default_factory=dict)   # rates of the season's batches

    def day(self, month_and_day, years_on=0):
        return number_of(datetime.date(self.plan.year + years_on, *month_and_day))


class Truth:
    """Three seasons, lived."""

    def __init__(self):
        self.climate = Climate()
        self.chance = Chance(SEED)
        self.ratio = TIMES["window_end_time"] / TIMES["ripening_time"]
        self.seasons = [self._season(plan) for plan in PLANS]

    def _of_batch(self, name, rate=None):
        return moved(rate or RATES[name], BATCH_SPREADS[name] * self.chance.normal())

    def _season(self, plan):
        season = Season(plan)
        luck = {"germination": BATCH_SPREADS["germination"] * self.chance.normal(),
                "standing": BATCH_SPREADS["standing"] * self.chance.normal()}
        season.effects = {
            "germination": {sowing.lot: moved(GERMINATION[sowing.lot], luck["germination"]) for sowing in plan.sowings},
            "standing": moved(RATES["standing"], luck["standing"]), "winter": self._of_batch("winter"),
            "grade": {method: self._of_batch("grade") for method in ("square-cut", "slanting-cut")}, "sessions": []}
        for tray, sowing in enumerate(plan.sowings):
            season.trays.append(self._raise(season, tray, sowing))
        self._strike_all(season)
        for pots in season.pots:
            self._wean(season, pots)
        return season

    def _raise(self, season, tray, sowing):
        """The seedlings of a tray, those that will die in it too."""
        climate, seedlings = self.climate, []
        sown = number_of(season.plan.sown)
        for _ in range(sowing.seeds):
            if not self.chance.happens(season.effects["germination"][sowing.lot]):
                continue
            needed = climate.germination[sown] + TIMES["cover_time"] + TIMES["germination_time"] * math.exp(
                TIMES["germination_spread"] * self.chance.normal())
            up = bisect.bisect_left(climate.germination, needed, sown + 1) - 1
            assert up < sown + FIRST_TRAY_CLOSED_DAYS, "a seedling came up after the tray was closed: take another seed"
            demand = TIMES["ripening_time"] * math.exp(TIMES["ripening_spread"] * self.chance.normal())
            one = Seedling(tray, up, climate.ripening[up + 1], demand)
            if not self.chance.happens(season.effects["standing"]):
                self._lose(one)
            seedlings.append(one)
        return seedlings

    def _lose(self, one):
        """Half of the losses within the half age, half of the rest within as many days again; all before the window."""
        opens = bisect.bisect_left(self.climate.ripening, one.clock + one.demand)
        half = TIMES["loss_half_age_days"]
        within = 1 - 2 ** (-(opens - one.up - 1) / half)
        one.lost = one.up + 1 + int(-half * math.log2(1 - self.chance.uniform() * within))
        one.cause = self.chance.one_of(SEEDLING_CAUSES)

    def _ready(self, season, day, next_day):
        """Whom the strike rule gives to a session: the open ones that are nearest to the place that is aimed at."""
        now, then = self.climate.ripening[day], self.climate.ripening[next_day]
        ready = []
        for one in (one for tray in season.trays for one in tray):
            if one.lost is not None or one.taken is not None or one.up >= day:
                continue
            place, later = one.place(now, self.ratio), one.place(then, self.ratio)
            if 0 <= place < 1 and ((place + later) / 2 >= STRIKE_PLACE or later >= 1):
                ready.append(one)
        return ready

    def _strike_all(self, season):
        """On Saturdays, from the first with ten ready seedlings to the last with five; who waited is ahead."""
        waited = []
        first = number_of(season.plan.sown) + 35
        first += (5 - day_of(first).weekday()) % 7
        for day in range(first, season.day((7, 19)), 7):
            if day_of(day) in season.plan.away:
                continue
            ready = self._ready(season, day, day + 7)
            if len(ready) < (5 if season.sessions else 10):
                continue
            known = {id(one) for one in waited}
            queue = [one for one in waited if one in ready] + self.chance.shuffled(
                [one for one in ready if id(one) not in known])
            waited = self._strike(season, day, queue)

    def _strike(self, season, day, queue):
        """One session; who is left waiting."""
        number = len(season.sessions)
        usable = self._of_batch("usable")
        takes = {method: self._of_batch("take") for method in ("square-cut", "slanting-cut")}
        season.effects["sessions"].append({"usable": usable, "take": takes, "weaning": self._of_batch("weaning")})
        accepted, refused = [], []
        while queue and len(accepted) < ROOM:
            one = queue.pop(0)
            one.taken = day
            (accepted if self.chance.happens(usable) else refused).append(one)
        groups = self._groups(accepted, refused, queue)
        if number in season.plan.slanting:
            for group in [group for group in groups if len(group.cuttings) == GROUP][-2:]:
                group.method = "slanting-cut"
        if season.plan.control == number:
            groups[0].method = "control"
        for group in groups:
            group.cuttings = [self._cutting(season, one, day, group.method, takes) for one in group.cuttings]
        season.sessions.append((day, groups))
        self._pot(season, number, day, groups)
        return queue

    def _groups(self, accepted, refused, waiting):
        """Tray by tray, six at a time; each seedling that was not good enough falls to a group of its tray."""
        groups = []
        for tray in (0, 1):
            good = [one for one in accepted if one.tray == tray]
            here = [Group(tray, "square-cut", good[n:n + GROUP]) for n in range(0, len(good), GROUP)]
            bad = sum(one.tray == tray for one in refused)
            left = sum(one.tray == tray for one in waiting)
            if not here and bad + left:
                here = [Group(tray, "square-cut", [])]
            for _ in range(bad):
                group = here[self.chance.whole(len(here))]
                if self.chance.happens(BROKEN):
                    group.broken += 1
                else:
                    group.rejected += 1
            if here:
                here[-1].left_waiting = left
            groups += here
        return groups

    def _pot(self, season, number, day, groups):
        for method in ("control", "square-cut", "slanting-cut"):
            cuttings = [one for group in groups if group.method == method for one in group.cuttings]
            if cuttings:
                plain = "square-cut" if method == "control" else method
                season.pots.append(Pots(number, day, plain, method == "control", cuttings))

    def _cutting(self, season, one, day, method, takes):
        """Roots or dies. One that will not root stays green for a while; one that will may meet the cold first."""
        place = one.place(self.climate.ripening[day], self.ratio)
        ripeness = math.log(TIMES["edge_odds"]) * (2 * place - 1) ** 2
        if method == "control":
            ripeness += math.log(CONTROL_ODDS)
        take = moved(takes["square-cut" if method == "control" else method], ripeness)
        cutting = Cutting()
        rooting = self.climate.rooting
        if self.chance.happens(take):
            needed = TIMES["rooting_time"] * math.exp(TIMES["rooting_spread"] * self.chance.normal())
            cutting.rooted = bisect.bisect_left(rooting, rooting[day] + needed)
        else:
            age = TIMES["unrooted_half_age_days"] * math.exp(TIMES["unrooted_spread"] * self.chance.normal())
            cutting.dead, cutting.cause = day + max(3, int(age)), self.chance.one_of(CUTTING_CAUSES)
        for night in range(day, season.day(SORTED_ON)):
            if cutting.has_roots(night) or not cutting.is_alive(night):
                break
            if not self.chance.happens(self._lives(night)):
                cutting.dead, cutting.cause, cutting.rooted = night + 1, "rotted", None
        return cutting

    def _lives(self, day):
        """The chance of an unrooted cutting to live through a day that brings no warmth, and its night of frost."""
        still = max(1 - (self.climate.rooting[day + 1] - self.climate.rooting[day]), 0)
        alive = (1 - self.climate.idle_loss) ** (still / 7)
        coldest = min(self.climate.air[day])
        return alive * 2 ** -(2 ** ((self.climate.frost_half - coldest) / 0.7)) if coldest < 0 else alive

    def _wean(self, season, pots):
        """From the first Saturday after six weeks on which half of the living have roots, at the latest as they are
        sorted; each cutting from its own rooting on."""
        end = season.day(SORTED_ON)
        self._lift(season, pots)
        pots.weaning_from = next(
            (day for day in range(pots.day + 42, end, 7)
             if 2 * sum(one.has_roots(day) for one in pots.alive(day)) >= len(pots.alive(day)) > 0), end)
        rate = season.effects["sessions"][pots.session]["weaning"]
        grade = season.effects["grade"][pots.method]
        for one in pots.cuttings:
            if one.lifted is not None:
                continue
            if one.dead is None and (one.rooted is None or one.rooted > end):
                one.dead, one.cause, one.rooted = end + 1, "too_late", None
            if one.dead is not None and one.dead > end:  # green without roots: thrown away before it died
                one.dead, one.cause = end + 1, "too_late"
            if one.rooted is None:
                continue
            begins = max(one.rooted, pots.weaning_from)
            if self.chance.happens(rate):
                one.weaned = begins + TIMES["weaning_days"]
                one.is_good = self.chance.happens(grade)
                one.survives_winter = self.chance.happens(season.effects["winter"])
            else:
                one.dead = begins + 1 + self.chance.whole(TIMES["weaning_days"])
                one.cause = self.chance.one_of(WEANING_CAUSES)

    def _lift(self, season, pots):
        """Three cuttings are used up after four weeks, to look at their roots."""
        if pots.session not in season.plan.lifted or pots.method != "square-cut" or pots.is_control:
            return
        for one in self.chance.shuffled(pots.alive(pots.day + 28))[:3]:
            one.lifted, one.dead = pots.day + 28, None


def sums_of(season):
    """What a season came to, stage by stage."""
    goal = season.day(GOAL_ON)
    seedlings = [one for tray in season.trays for one in tray]
    groups = [group for _, groups in season.sessions for group in groups]
    own = [pots for pots in season.pots if not pots.is_control]

    def by_form(count):
        return {form: sum(count(one) for pots in own if pots.method == method for one in pots.cuttings)
                for form, method in (("radial", "square-cut"), ("single-root", "slanting-cut"))}

    sums = {
        "sown": sum(sowing.seeds for sowing in season.plan.sowings),
        "emerged": len(seedlings),
        "emerged_by_tray": [len(tray) for tray in season.trays],
        "lost_in_the_tray": sum(one.lost is not None for one in seedlings),
        "passed_over": sum(group.rejected for group in groups),
        "broken": sum(group.broken for group in groups),
        "too_late": sum(one.lost is None and one.taken is None for one in seedlings),
        "struck": by_form(lambda one: True),
        "controls": sum(len(pots.cuttings) for pots in season.pots if pots.is_control),
        "lifted": sum(one.lifted is not None for pots in season.pots for one in pots.cuttings),
        "rooted_in_time": by_form(lambda one: one.rooted is not None and one.lifted is None),
        "standing_on_goal_date": by_form(lambda one: one.weaned is not None and one.weaned <= goal),
        "good_on_goal_date": by_form(lambda one: one.weaned is not None and one.weaned <= goal and one.is_good),
        "controls_standing_on_goal_date": sum(one.weaned is not None for pots in season.pots if pots.is_control
                                              for one in pots.cuttings),
    }
    if season.plan.year < LAST.year:  # the last winter is still to come
        sums["wintered"] = by_form(lambda one: one.weaned is not None and one.survives_winter)
    return sums
