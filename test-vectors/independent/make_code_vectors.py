#!/usr/bin/env python3
"""Makes ../vectors/<instrument>/codes.csv: each item with each of its codes, and each item one below and one above them.

Run in this folder: python3 make_code_vectors.py. The expected values are those of score_independent.py, which shares nothing with the
program. Responses are invented, the same at every run.
"""
import csv
import io
import os

import make_random
import score_independent as independent

HEADER = "id,tag,responses,scale,hand,options,outcome,reason,score,tolerance,items,answered,lowest,highest,standard_error,why".split(",")
SOURCE = "# Each code of each item, and one below and one above. Independent calculation (test-vectors/independent); responses invented."
MARKS = {"sane", "swv", "msacrah"}  # any number from 0 to 100


def ends(form, codes):
    return [0, 12.5, 50, 99.5, 100] if form in MARKS else list(codes)


def cell(r, key):
    return independent.shown(r[key]) if key in r else ""


def vector(form, name, responses, side, why):
    row = {f"{form}_{k}": str(v) for k, v in responses.items()}
    row.update(side=side)
    header = list(row)
    text = " ".join(([f"side={side}"] if side else []) + [f"{k}={v}" for k, v in responses.items()])
    for _, scale, hand, r in independent.score_row(row, header):
        by_hand = hand if form == "mhq" and scale != "work" else ""
        end = f"-{by_hand}" if by_hand else ""
        yield [f"{scale}-{name}{end}", "derived", text, scale, by_hand, "", r["outcome"], r["reason"], cell(r, "score"), "0.000001",
               r["items"], r["answered"], cell(r, "lowest"), cell(r, "highest"), cell(r, "standard_error"), why]


def forms():
    for form, (items, codes) in make_random.FORMS.items():
        if form == "quickdash":
            items = items + [f"sport_{i}" for i in range(1, 5)]
        yield form, [i for i in items if not i.endswith("_left")], ends(form, codes)


COLD = [("2", [2, 4, 6, 8, 10]), ("3", [2, 6, 10]), ("4", [0, 2, 4, 6, 8, 10])]
COLD += [(f"situation_{n}", list(range(11))) for n in range(1, 6)] + [(f"activity_{n}", list(range(5))) for n in range(1, 6)]


def cold():
    """The cold intolerance questionnaire: the plain sum of keys from memory."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(HEADER)
    for shift in range(11):
        filled = {item: codes[(shift + n) % len(codes)] for n, (item, codes) in enumerate(COLD)}
        total = sum(filled.values())
        table.writerow([f"total-codes-{shift + 1}", "from-memory", " ".join(f"{k}={v}" for k, v in filled.items()), "total", "", "", "complete",
                        "", total, "0.000001", len(COLD), len(COLD), total, total, "", "the codes in turn"])
    return out.getvalue()


def main():
    with open(os.path.join("..", "vectors", "coldintolerance", "codes.csv"), "w", encoding="utf-8", newline="") as f:
        f.write("# Each code of each item. The plain sum; the keys are from memory; responses invented.\n" + cold())
    for form, items, codes in forms():
        side = "right" if form == "mhq" else ""
        out = io.StringIO()
        table = csv.writer(out, lineterminator="\n")
        table.writerow(HEADER)
        for shift in range(len(codes)):
            # steps of one and, in the second half of the items, of two: no sum stays the same when an item is left out
            filled = {item: codes[(shift + n * (1 if 2 * n < len(items) else 2)) % len(codes)] for n, item in enumerate(items)}
            for row in vector(form, f"codes-{shift + 1}", filled, side, "the codes in turn"):
                table.writerow(row)
        middle = codes[len(codes) // 2]
        for item in items:
            for name, value in (("below", min(codes) - 1), ("above", max(codes) + 1)):
                filled = dict.fromkeys(items, middle)
                filled[item] = value
                for row in vector(form, f"{item}-{name}", filled, side, f"{value} is no code of {item}"):
                    if row[7] == "response-not-allowed":
                        table.writerow(row)
        folder = os.path.join("..", "vectors", form)
        os.makedirs(folder, exist_ok=True)
        with open(os.path.join(folder, "codes.csv"), "w", encoding="utf-8", newline="") as f:
            f.write(SOURCE + "\n" + out.getvalue())


if __name__ == "__main__":
    main()
