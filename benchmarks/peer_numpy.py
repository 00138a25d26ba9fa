#!/usr/bin/env python3
"""One season of seedling cuttings in numpy, as a careful user would write it: whole arrays at a time, single precision
where it is enough, in blocks of futures that stay in the processor's cache, no loop over futures, cohorts or seeds.

    peer_numpy.py FOLDER [RUNS] [--rough]     FOLDER as season_for_peers fills it
    --rough    the normal distribution by a hyperbolic tangent: off by up to 1.4e-4, and several times faster

Prints how sure the goal is with each number of seeds, and the median processor time of the parts, in ms."""
import statistics
import sys
import time

import numpy as np

BLOCK = 256  # futures; tried from 16 to 6,144


def read_season(folder):
    season = {}
    with open(folder + "/season.txt", encoding="utf-8") as lines:
        for line in lines:
            name, *values = line.split()
            season[name] = [value if value in ("beta", "known") else float(value) for value in values]
    shape = (int(season["weather_seasons"][0]), int(season["days"][0]) + 1)
    for clock in ("germination", "ripening", "rooting"):
        season[clock + "_sum"] = np.fromfile(f"{folder}/{clock}.f32", dtype=np.float32).reshape(shape)
    return season


def normal_share(z):
    """Phi(z) in place, by Abramowitz & Stegun 7.1.28: the formula and the accuracy that Strikebed has."""
    negative = z < 0
    np.abs(z, out=z)
    z *= np.float32(0.70710678)
    np.minimum(z, np.float32(6), out=z)
    d = z * np.float32(0.0000430638)
    for c in (0.0002765672, 0.0001520143, 0.0092705272, 0.0422820123, 0.0705230784):
        d += np.float32(c)
        d *= z
    d += np.float32(1)
    for _ in range(4):
        d *= d
    np.divide(np.float32(0.5), d, out=d)
    np.subtract(np.float32(1), d, out=d, where=~negative)
    return d


def rough_normal_share(z):
    """Phi(z) = (1 + tanh(0.7988 z (1 + 0.04417 z^2))) / 2, Page 1977, Applied Statistics 26:75-76."""
    inner = z * z
    inner *= np.float32(0.7988 * 0.04417)
    inner += np.float32(0.7988)
    inner *= z
    np.tanh(inner, out=inner)
    inner *= np.float32(0.5)
    inner += np.float32(0.5)
    return inner


def lognormal_score(warmth, log_median, spread):
    np.maximum(warmth, np.float32(1e-6), out=warmth)
    np.log(warmth, out=warmth)
    warmth -= log_median
    warmth /= spread
    return warmth


def share_of(logit):
    return 1 / (1 + np.exp(-logit))


def drawn_logit(season, name, rng, futures):
    kind, a, b, _ = season[name]
    rate = rng.beta(a, b, futures) if kind == "beta" else np.full(futures, a)
    return np.log(rate) - np.log1p(-rate)


def drawn_timing(season, name, rng, futures):
    log_median, log_sd = season[name]
    return (log_median + log_sd * rng.standard_normal(futures)).astype(np.float32)


def draw_futures(season, rng):
    """Everything that is not known, once for each future."""
    n = int(season["futures"][0])
    sessions = len(season["session_days"])
    f = {"weather": rng.permutation(np.arange(n) % int(season["weather_seasons"][0]))}
    for name in ("germination_time", "ripening_time", "rooting_time"):
        f[name] = drawn_timing(season, name, rng, n)
    for name in ("germination_spread", "cover_time", "ripening_spread", "rooting_spread", "weaning_days"):
        f[name] = np.exp(drawn_timing(season, name, rng, n))
    window = drawn_timing(season, "window_end", rng, n) - f["ripening_time"]
    f["window_ratio"] = np.maximum(np.exp(window), np.float32(1.05))
    f["edge_odds"] = np.minimum(drawn_timing(season, "edge_odds", rng, n), 0)
    for name in ("germination", "standing", "grade"):  # one batch a season
        f[name] = share_of(drawn_logit(season, name, rng, n) + season[name][3] * rng.standard_normal(n))
    for name in ("usable", "take", "weaning"):  # a batch a session
        logit = drawn_logit(season, name, rng, n)[:, None]
        spread = season[name][3]
        f[name] = logit + spread * rng.standard_normal((n, sessions)) if spread > 0 else logit
    return f


def thermal_shares(season, f, normal_share):
    """Per future and session: share of standing seedlings whose first session in their window it is; mean ripening clock
    at which their windows opened; mean and sd of the clock at which they close. Cohorts by day of emergence."""
    n = int(season["futures"][0])
    days = np.array(season["session_days"], dtype=int)
    sow = int(season["sow_day"][0])
    last = days[-1]
    offered, opened, closes, closes_sd = (np.zeros((n, len(days)), np.float32) for _ in range(4))
    for start in range(0, n, BLOCK):
        block = slice(start, min(start + BLOCK, n))
        weather = f["weather"][block]
        column = lambda name: f[name][block][:, None]
        germination = season["germination_sum"][weather, sow : last + 1]
        warmth = germination[:, 1:] - germination[:, :1] - column("cover_time")
        emerged = normal_share(lognormal_score(warmth, column("germination_time"), column("germination_spread")))
        over = int(np.argmax(emerged.min(axis=0) > 1 - 1e-5)) or emerged.shape[1] - 1
        share = np.diff(emerged[:, : over + 1], axis=1, prepend=np.float32(0))
        share /= np.where(emerged[:, over : over + 1] > 1 - 2e-5, emerged[:, over : over + 1], 1)
        first = int(np.argmax(share.max(axis=0) > 1e-6))
        share = share[:, first:]
        ripening = season["ripening_sum"][weather]
        emergence = ripening[:, sow + 1 + first : sow + 1 + over + 1]
        ratio = column("window_ratio")
        later = np.log(ratio) / column("ripening_spread")
        gain_before = np.zeros_like(emergence)
        ready_before = np.zeros_like(emergence)
        for s, day in enumerate(days):
            if day <= sow:
                continue
            gain = np.maximum(ripening[:, day : day + 1] - emergence, 0)
            score = lognormal_score(gain.copy(), column("ripening_time"), column("ripening_spread"))
            closed = normal_share(score - later)
            ready = normal_share(score)
            part = ready - np.maximum(ready_before, closed)
            np.maximum(part, 0, out=part)
            part *= share
            middle = np.maximum(gain_before, gain / ratio)
            middle += gain
            middle *= np.float32(0.5)
            total = part.sum(axis=1)
            per_total = 1 / np.maximum(total, np.float32(1e-12))
            offered[block, s] = total
            opened[block, s] = np.einsum("fe,fe->f", part, emergence + middle) * per_total
            middle *= ratio
            middle += emergence
            weighted = part * middle
            mean = weighted.sum(axis=1) * per_total
            closes[block, s] = mean
            square = np.einsum("fe,fe->f", weighted, middle) * per_total
            closes_sd[block, s] = np.sqrt(np.maximum(square - mean * mean, 1))
            gain_before, ready_before = gain, ready
            if ready.min() > 1 - 1e-6:
                break
    return offered, opened, closes, closes_sd


def counted_plants(season, f, shares, seeds, normal_share, rng):
    """One course of every season at the bench, seedlings counted whole: who arrives, whose window closes while they wait
    for room, who is struck (who has waited longest first), who is counted in the end."""
    offered, opened, closes, closes_sd = shares
    n, sessions = offered.shape
    days = np.array(season["session_days"], dtype=int)
    ripening = season["ripening_sum"][f["weather"][:, None], days]
    rooting = season["rooting_sum"][f["weather"]]
    deadline = int(season["by_day"][0]) - np.rint(f["weaning_days"]).astype(int)
    warmth = np.maximum(rooting[np.arange(n), deadline][:, None] - rooting[:, days], 0)
    in_time = normal_share(lognormal_score(warmth, f["rooting_time"][:, None], f["rooting_spread"][:, None]))
    after = in_time * share_of(f["weaning"]) * f["grade"][:, None]
    accepted = (f["germination"] * f["standing"])[:, None] * offered * share_of(f["usable"])
    cap = int(season["cuttings_at_most"][0])

    unseen = np.full(n, seeds)
    seen_share = np.zeros(n)
    waiting = np.zeros((sessions, n), dtype=np.int64)
    counted = np.zeros(n, dtype=np.int64)
    open_before = np.ones((sessions, n), np.float32)
    head = 0  # the first group of which any are left
    for s in range(sessions):
        chance = np.minimum(accepted[:, s] / np.maximum(1 - seen_share, 1e-9), 1)
        waiting[s] = rng.binomial(unseen, chance)
        unseen -= waiting[s]
        seen_share += accepted[:, s]
        while head < s and not waiting[head].any():
            head += 1
        groups = slice(head, s + 1)
        if not waiting[groups].any():
            continue
        open_now = normal_share((closes[:, groups].T - ripening[:, s]) / closes_sd[:, groups].T)
        if s > head:
            stay = np.minimum(open_now[:-1] / np.maximum(open_before[head:s], np.float32(1e-12)), 1)
            some = waiting[head:s] > 0
            waiting[head:s][some] = rng.binomial(waiting[head:s][some], stay[some])
        open_before[groups] = open_now
        struck = np.diff(np.minimum(np.cumsum(waiting[groups], axis=0), cap), axis=0, prepend=0)
        waiting[groups] -= struck
        some = np.nonzero(struck)
        group, future = some[0] + head, some[1]
        position = (ripening[future, s] - opened[future, group]) / np.maximum(
            closes[future, group] - opened[future, group], 1
        )
        take = share_of(f["take"][future, s] + f["edge_odds"][future] * (2 * position - 1) ** 2)
        rooted = rng.binomial(struck[some], take * after[future, s])
        counted += np.bincount(future, weights=rooted, minlength=n).astype(np.int64)
    return counted


def main():
    arguments = [argument for argument in sys.argv[1:] if argument != "--rough"]
    normal = rough_normal_share if "--rough" in sys.argv else normal_share
    season = read_season(arguments[0])
    runs = int(arguments[1]) if len(arguments) > 1 else 5
    seeds = [int(number) for number in season["seeds"]]
    sure = {number: [] for number in seeds}
    times = {"draws": [], "shares": [], "plan": [], "whole": []}
    for run in range(runs):
        rng = np.random.default_rng(run)
        began = time.process_time()
        futures = draw_futures(season, rng)
        drawn = time.process_time()
        shares = thermal_shares(season, futures, normal)
        shared = time.process_time()
        counted = {seeds[0]: counted_plants(season, futures, shares, seeds[0], normal, rng)}
        done = time.process_time()
        for name, seconds in zip(times, (drawn - began, shared - drawn, done - shared, done - began)):
            times[name].append(1000 * seconds)
        for number in seeds[1:]:
            counted[number] = counted_plants(season, futures, shares, number, normal, rng)
        for number in seeds:
            sure[number].append(float((counted[number] >= season["wanted"][0]).mean()))
    for number, chances in sure.items():
        print(f"assurance_{number} {statistics.mean(chances):.4f}")
    for name, all_runs in times.items():
        print(f"{name}_ms {statistics.median(all_runs):.1f}")
    print(f"whole_fastest_ms {min(times['whole']):.1f}")
    print(f"version numpy {np.__version__}, Python {sys.version.split()[0]}")


if __name__ == "__main__":
    main()
