#!/usr/bin/env python3
"""Makes random-sittings.csv (invented, the same at every run): responses with gaps and a few entries that are not allowed.

Run in this folder: python3 make_random.py && python3 score_independent.py random-sittings.csv > expected-scores.csv
"""
import csv
import random

FORMS = {
    "dash": ([str(i) for i in range(1, 31)] + [f"work_{i}" for i in range(1, 5)] + [f"sport_{i}" for i in range(1, 5)], range(1, 6)),
    "quickdash": ([str(i) for i in range(1, 12)] + [f"work_{i}" for i in range(1, 5)], range(1, 6)),
    "prwe": ([str(i) for i in range(1, 16)], range(0, 11)),
    "prwhe": ([str(i) for i in range(1, 16)], range(0, 11)),
    "bctq": ([f"symptom_{i}" for i in range(1, 12)] + [f"function_{i}" for i in range(1, 9)], range(1, 6)),
    "cts6symptom": ([str(i) for i in range(1, 7)], range(1, 6)),
    "promispf4a": (["1", "2", "3", "4"], range(1, 6)),
    "promispi4a": (["1", "2", "3", "4"], range(1, 6)),
    "mhq": ([f"{s}_{i}_{h}" for s, n in (("function", 5), ("onehand", 5), ("pain", 5), ("aesthetics", 4), ("satisfaction", 6))
             for i in range(1, n + 1) for h in ("right", "left")] + [f"bothhands_{i}" for i in range(1, 8)]
            + [f"work_{i}" for i in range(1, 6)], range(1, 6)),
    "bmhq": ([str(i) for i in range(1, 13)], range(1, 6)),
    "uram": ([str(i) for i in range(1, 10)], range(0, 6)),
    "sdss": ([str(i) for i in range(1, 6)], range(0, 5)),
    "fihoa": ([str(i) for i in range(1, 11)], range(0, 4)),
    "cochin": ([str(i) for i in range(1, 19)], range(0, 6)),
    "uefi20": ([str(i) for i in range(1, 21)], range(0, 5)),
    "ulfi": ([str(i) for i in range(1, 26)], [0, 0.5, 1]),
    "psfs": ([str(i) for i in range(1, 6)], range(0, 11)),
    "nprs": (["rest", "activity", "average", "worst"], range(0, 11)),
    "sane": (["1"], range(0, 101)),
    "swv": (["1"], range(0, 101)),
    "grc": (["1"], range(-7, 8)),
    "grc11": (["1"], range(-5, 6)),
    "grc5": (["1"], range(-2, 3)),
    "maphand": ([str(i) for i in range(1, 19)], range(1, 5)),
    "maphandsum": ([str(i) for i in range(1, 19)], range(0, 4)),
    "msacrah": ([f"function_{i}" for i in range(1, 9)] + ["stiffness_1", "stiffness_2", "pain_1", "pain_2"], [x / 2 for x in range(0, 201)]),
}
BAD = ["x", "99", "2,3", "-99"]


def main():
    rng = random.Random(4711)
    columns = [f"{form}_{item}" for form, (items, _) in FORMS.items() for item in items]
    rows = []
    for n in range(260):
        row = dict.fromkeys(columns, "")
        row.update(patient=f"R{n:04d}", completed_on="2026-01-15", side=["right", "left", "both", ""][n % 4])
        for form, (items, codes) in FORMS.items():
            gaps = rng.choice([0.0, 0.0, 0.04, 0.1, 0.3, 0.6, 1.0])
            hands = rng.choice([("right",), ("left",), ("right", "left")])
            for item in items:
                other = form == "mhq" and (item.endswith("_right") and "right" not in hands or item.endswith("_left") and "left" not in hands)
                if rng.random() >= gaps and not other:
                    row[f"{form}_{item}"] = rng.choice(list(codes))
            if rng.random() < 0.05:
                row[f"{form}_{rng.choice(items)}"] = rng.choice(BAD)
        rows.append(row)
    with open("random-sittings.csv", "w", newline="", encoding="utf-8") as f:
        out = csv.DictWriter(f, ["patient", "completed_on", "side"] + columns)
        out.writeheader()
        out.writerows(rows)


if __name__ == "__main__":
    main()
