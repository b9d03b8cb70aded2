#!/usr/bin/env python3
"""An independent scorer, written from the papers and pages that the definitions name, sharing nothing with the program.

Usage: python3 score_independent.py RESPONSES.csv > scores.csv
Reads the wide layout; prints score rows. Standard library only.
"""
import csv
import sys

PF4A = dict(zip(range(4, 21), [(22.5, 4.0), (26.6, 2.8), (28.9, 2.5), (30.5, 2.4), (31.9, 2.3), (33.2, 2.3), (34.4, 2.3),
                               (35.6, 2.3), (36.7, 2.3), (37.9, 2.3), (39.2, 2.4), (40.5, 2.4), (41.9, 2.5), (43.5, 2.6),
                               (45.5, 2.8), (48.3, 3.3), (57.0, 6.6)]))
PI4A = dict(zip(range(4, 21), [(41.6, 6.1), (49.6, 2.5), (52.0, 2.0), (53.9, 1.9), (55.6, 1.9), (57.1, 1.9), (58.5, 1.8),
                               (59.9, 1.8), (61.2, 1.8), (62.5, 1.8), (63.8, 1.8), (65.2, 1.8), (66.6, 1.8), (68.0, 1.8),
                               (69.7, 1.9), (71.6, 2.1), (75.6, 3.7)]))


def ids(prefix, n):
    return [f"{prefix}{i}" for i in range(1, n + 1)]


def whole(lo, hi):
    return lambda x: x == int(x) and lo <= x <= hi


class Items:
    """A scale from items: a sum over k items after turning some round, then a formula."""

    def __init__(self, items, lo, hi, need, of_full_sum, turned=(), codes=None, optional=False, table=None):
        self.items, self.lo, self.hi, self.need = items, lo, hi, need
        self.formula, self.turned, self.optional = of_full_sum, turned, optional
        self.allowed = codes or whole(lo, hi)
        self.table = table

    def score(self, row, column):
        k, total, n, bad, open_items = len(self.items), 0.0, 0, False, 0
        for item in self.items:
            text = row.get(column(item), "").strip()
            if text == "":
                open_items += 1
                continue
            try:
                x = float(text)
            except ValueError:
                bad = True
                continue
            if not self.allowed(x):
                bad = True
                continue
            total += self.lo + self.hi - x if item in self.turned else x
            n += 1
        if bad:
            return dict(outcome="not-scored", reason="response-not-allowed", items=k, answered=n)
        ends = sorted([self.formula(total + self.lo * open_items), self.formula(total + self.hi * open_items)])
        out = dict(items=k, answered=n, lowest=ends[0], highest=ends[1])
        if n == 0:
            if self.optional or k == 1:
                return None
            return dict(out, outcome="not-scored", reason="no-answers")
        if n < self.need:
            return dict(out, outcome="not-scored", reason="too-few-answered")
        s = self.formula(total * k / n)
        out.update(outcome="complete" if n == k else "with-missing", reason="", score=s)
        if self.table:
            out["standard_error"] = self.table[int(total)][1]
        return out


class Rated(Items):
    """The mean of what the person named; what was not named is not missing."""

    def score(self, row, column):
        got = [row.get(column(i), "").strip() for i in self.items]
        filled = [t for t in got if t]
        values = []
        for t in filled:
            try:
                values.append(float(t))
            except ValueError:
                values.append(None)
        good = [v for v in values if v is not None and self.allowed(v)]
        if len(good) < len(filled):
            return dict(outcome="not-scored", reason="response-not-allowed", items=len(filled), answered=len(good))
        if not good:
            return dict(outcome="not-scored", reason="no-answers", items=len(self.items), answered=0, lowest=self.lo, highest=self.hi)
        s = sum(good) / len(good)
        return dict(outcome="complete", reason="", score=s, items=len(good), answered=len(good), lowest=s, highest=s)


class NeverPain(Items):
    """The pain scale whose first item 'never' (5) lets the person skip the rest: no pain, 0."""

    def score(self, row, column):
        out = super().score(row, column)
        first = row.get(column(self.items[0]), "").strip()
        if out.get("reason") == "response-not-allowed":
            return out
        if first in ("5", "5.0"):
            return dict(outcome="complete", reason="", score=0.0, items=1, answered=1, lowest=0.0, highest=0.0)
        if first == "":
            out["lowest"] = 0.0  # 'never' may be the answer
        return out


def combine(parts, weight):
    """A scale over parts (result, turned round?); `weight` makes the sum the score."""
    items = sum(p["items"] for p, _ in parts)
    answered = sum(p["answered"] for p, _ in parts)
    out = dict(items=items, answered=answered)
    if all("lowest" in p for p, _ in parts):
        low = sum(100 - p["highest"] if turned else p["lowest"] for p, turned in parts)
        high = sum(100 - p["lowest"] if turned else p["highest"] for p, turned in parts)
        out.update(lowest=low * weight, highest=high * weight)
    if any("score" not in p for p, _ in parts):
        return dict(out, outcome="not-scored", reason="part-not-scored")
    s = sum(100 - p["score"] if turned else p["score"] for p, turned in parts) * weight
    done = all(p["outcome"] == "complete" for p, _ in parts)
    return dict(out, outcome="complete" if done else "with-missing", reason="", score=s)


def mean_of(k, minus=0.0, times=1.0):
    return lambda full: (full / k - minus) * times


def at_least_80(k):
    return -(-k * 80 // 100)


SUM = {"uram": (9, 0, 5), "sdss": (5, 0, 4), "fihoa": (10, 0, 3), "cochin": (18, 0, 5), "uefi20": (20, 0, 4)}
ANY = lambda x: 0 <= x <= 100  # a mark on a line from 0 to 100
ONE = {"sane": ANY, "swv": ANY, "grc": whole(-7, 7), "grc11": whole(-5, 5), "grc5": whole(-2, 2)}


def plain_scales(instrument):
    """Scales asked of the person, by id; not MHQ."""
    if instrument in ("dash", "quickdash"):
        k, need = (30, 27) if instrument == "dash" else (11, 10)
        scales = {"total": Items(ids("", k), 1, 5, need, mean_of(k, 1, 25))}
        for m in ("work", "sport"):
            scales[m] = Items(ids(m + "_", 4), 1, 5, 4, mean_of(4, 1, 25), optional=True)
        return scales
    if instrument in ("prwe", "prwhe"):
        return {"pain": Items(ids("", 5), 0, 10, 4, lambda f: f),
                "function": Items([str(i) for i in range(6, 16)], 0, 10, 8, lambda f: f / 2)}
    if instrument == "bctq":
        return {"symptom-severity": Items(ids("symptom_", 11), 1, 5, 6, mean_of(11)),
                "functional-status": Items(ids("function_", 8), 1, 5, 4, mean_of(8))}
    if instrument == "cts6symptom":
        return {"total": Items(ids("", 6), 1, 5, 5, mean_of(6))}
    if instrument in ("promispf4a", "promispi4a"):
        table = PF4A if instrument == "promispf4a" else PI4A
        return {"tscore": Items(ids("", 4), 1, 5, 4, lambda f: table[round(f)][0], table=table)}
    if instrument in SUM:
        k, lo, hi = SUM[instrument]
        return {"total": Items(ids("", k), lo, hi, at_least_80(k), lambda f: f)}
    if instrument == "ulfi":
        return {"total": Items(ids("", 25), 0, 1, 20, lambda f: 100 - 4 * f, codes=lambda x: x in (0, 0.5, 1))}
    if instrument == "psfs":
        return {"total": Rated(ids("", 5), 0, 10, 1, None)}
    if instrument == "nprs":
        return {s: Items([s], 0, 10, 1, lambda f: f) for s in ("rest", "activity", "average", "worst")}
    if instrument in ONE:
        lo, hi = {"grc": (-7, 7), "grc11": (-5, 5), "grc5": (-2, 2)}.get(instrument, (0, 100))
        return {"total": Items(["1"], lo, hi, 1, lambda f: f, codes=ONE[instrument])}
    if instrument == "maphand":
        return {"total": Items(ids("", 18), 1, 4, 15, mean_of(18))}
    if instrument == "maphandsum":
        return {"total": Items(ids("", 18), 0, 3, 15, lambda f: f)}
    if instrument == "bmhq":
        turned = ("1", "2", "3", "4", "11", "12")
        return {"total": Items(ids("", 12), 1, 5, 7, lambda f: (f - 12) / 48 * 100, turned)}
    if instrument == "msacrah":
        any_number = lambda x: 0 <= x <= 100
        return {s: Items(ids(s + "_", k), 0, 100, at_least_80(k), mean_of(k), codes=any_number)
                for s, k in (("function", 8), ("stiffness", 2), ("pain", 2))}
    raise KeyError(instrument)


MHQ = {
    "function": Items(ids("function_", 5), 1, 5, 3, lambda f: -(f - 25) / 20 * 100),
    "onehand": Items(ids("onehand_", 5), 1, 5, 3, lambda f: -(f - 25) / 20 * 100),
    "bothhands": Items(ids("bothhands_", 7), 1, 5, 4, lambda f: -(f - 35) / 28 * 100),
    "work": Items(ids("work_", 5), 1, 5, 3, lambda f: (f - 5) / 20 * 100),
    "pain": NeverPain(ids("pain_", 5), 1, 5, 3, lambda f: -(f - 25) / 20 * 100, ("pain_2",)),
    "aesthetics": Items(ids("aesthetics_", 4), 1, 5, 3, lambda f: (f - 4) / 16 * 100, ("aesthetics_1",)),
    "satisfaction": Items(ids("satisfaction_", 6), 1, 5, 4, lambda f: -(f - 30) / 24 * 100),
}
MHQ_PER_HAND = ("function", "onehand", "pain", "aesthetics", "satisfaction")


def mhq(row):
    """Rows of the hand questionnaire: (scale, side, result)."""
    def filled(hand):
        return any(row.get(f"mhq_{i}_{hand}", "").strip() for s in MHQ_PER_HAND for i in MHQ[s].items)

    def shared(item):
        return f"mhq_{item}"

    work, both = MHQ["work"].score(row, shared), MHQ["bothhands"].score(row, shared)
    sitting = row.get("side", "").strip().lower()
    by_hand = {}
    for hand in ("right", "left"):
        def column(item, hand=hand):
            return f"mhq_{item}_{hand}"
        r = {s: MHQ[s].score(row, column) for s in MHQ_PER_HAND}
        r["adl"] = combine([(r["onehand"], False), (both, False)], 0.5)
        r["total"] = combine([(r["function"], False), (r["adl"], False), (work, False), (r["pain"], True),
                              (r["aesthetics"], False), (r["satisfaction"], False)], 1 / 6)
        by_hand[hand] = r
    out = []
    for scale in ("function", "adl", "work", "pain", "aesthetics", "satisfaction", "total"):
        if scale == "work":
            out.append(("work", sitting, work))
            continue
        for hand in ("right", "left"):
            if filled(hand):
                out.append((scale, hand, by_hand[hand][scale]))
        if sitting in ("both", "b") and (filled("right") or filled("left")):
            pair = combine([(by_hand["right"][scale], False), (by_hand["left"][scale], False)], 0.5)
            shared_items = {"adl": [both], "total": [both, work]}.get(scale, [])
            pair["items"] -= sum(s["items"] for s in shared_items)
            pair["answered"] -= sum(s["answered"] for s in shared_items)
            out.append((scale, "both", pair))
    return out


def instruments_of(header):
    names = sorted({h.split("_")[0] for h in header if "_" in h} - {"completed"})
    return [n for n in names if n != "griptasks"]


def score_row(row, header):
    """Every (instrument, scale, side, result) of a row."""
    for instrument in instruments_of(header):
        if not any(row[h].strip() for h in header if h.startswith(instrument + "_")):
            continue
        side = row.get("side", "").strip().lower()
        if instrument == "mhq":
            for scale, hand, result in mhq(row):
                yield instrument, scale, hand, result
            continue
        results = {}
        for scale, rule in plain_scales(instrument).items():
            results[scale] = rule.score(row, lambda item: f"{instrument}_{item}")
        if instrument in ("prwe", "prwhe"):
            results["total"] = combine([(results["pain"], False), (results["function"], False)], 1.0)
        if instrument == "msacrah":
            results["total"] = combine([(results[s], False) for s in ("function", "stiffness", "pain")], 1 / 3)
        for scale, result in results.items():
            if result is not None:
                yield instrument, scale, side, result


def shown(x):
    text = f"{x:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def main():
    rows = csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8"))
    out = csv.writer(sys.stdout, lineterminator="\r\n")
    out.writerow("patient,side,completed_on,instrument,scale,score,outcome,reason,items,answered,lowest,highest,standard_error".split(","))
    for row in rows:
        for instrument, scale, side, r in score_row(row, rows.fieldnames):
            out.writerow([row["patient"], side, row["completed_on"], instrument, scale, shown(r["score"]) if "score" in r else "",
                          r["outcome"], r["reason"], r["items"], r["answered"],
                          shown(r["lowest"]) if "lowest" in r else "", shown(r["highest"]) if "highest" in r else "",
                          shown(r["standard_error"]) if "standard_error" in r else ""])


if __name__ == "__main__":
    main()
