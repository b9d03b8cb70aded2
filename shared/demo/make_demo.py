#!/usr/bin/env python3
"""Makes the demo clinic: invented patients, invented answers. The same bytes at every run.

Run it in this folder: python3 make_demo.py
"""
import csv
import datetime as dt
import random

AS_OF = dt.date(2026, 11, 25)
# target, first and last day of each window of the default schedule
VISITS = [(0, -90, 0), (14, 7, 27), (42, 28, 59), (91, 60, 136), (183, 137, 273), (365, 274, 547), (730, 548, 912)]

DASH = [f"dash_{i}" for i in range(1, 31)] + [f"dash_work_{i}" for i in range(1, 5)]
QUICK = [f"quickdash_{i}" for i in range(1, 12)] + [f"quickdash_work_{i}" for i in range(1, 5)]
PRWE = [f"prwe_{i}" for i in range(1, 16)]
PRWHE = [f"prwhe_{i}" for i in range(1, 16)] + ["prwhe_appearance_1", "prwhe_appearance_2"]
BCTQ = [f"bctq_symptom_{i}" for i in range(1, 12)] + [f"bctq_function_{i}" for i in range(1, 9)]
GRIPS = ["key", "pinch", "precision", "power", "hook", "cylindrical"]
GRIP = [f"griptasks_{g}_{s}" for g in GRIPS for s in ("right", "left")]
COLUMNS = DASH + QUICK + PRWE + PRWHE + BCTQ + GRIP

# items asked, lowest code, highest code, and how many gaps are too many
FORMS = {"dash": (DASH[:30], 1, 5, 5), "quickdash": (QUICK[:11], 1, 5, 3), "prwe": (PRWE, 0, 10, 6),
         "prwhe": (PRWHE[:15], 0, 10, 6), "bctq": (BCTQ, 1, 5, 13)}

# condition: procedure, forms, severity at each visit (0 well, 1 worst)
CONDITIONS = {
    "distal radius fracture": ("volar plate", ["quickdash", "prwe", "griptasks"], [0.75, 0.62, 0.42, 0.25, 0.16, 0.10, 0.09]),
    "carpal tunnel": ("carpal tunnel release", ["bctq", "quickdash", "griptasks"], [0.50, 0.46, 0.28, 0.18, 0.15, 0.13, 0.13]),
    "thumb-base arthritis": ("trapeziectomy", ["prwhe", "quickdash", "griptasks"], [0.62, 0.60, 0.48, 0.36, 0.26, 0.20, 0.20]),
    "dupuytren": ("fasciectomy", ["quickdash", "griptasks"], [0.22, 0.35, 0.22, 0.15, 0.12, 0.11, 0.12]),
    "flexor tendon injury": ("tendon repair", ["dash", "griptasks"], [0.60, 0.66, 0.50, 0.34, 0.24, 0.17, 0.15]),
    "ulnar neuropathy": ("decompression", ["dash", "griptasks"], [0.46, 0.44, 0.38, 0.30, 0.25, 0.22, 0.21]),
}


def answer(rng, severity, low, high):
    """A code near the severity, with some spread."""
    level = min(1.0, max(0.0, rng.gauss(severity, 0.13)))
    return round(low + level * (high - low))


def gaps(rng, form):
    """Mostly none; some that the rule allows; now and then too many."""
    draw = rng.random()
    return 0 if draw < 0.84 else 1 if draw < 0.95 else FORMS[form][3]


def fill(rng, row, form, severity, side, works):
    """Answers of one form."""
    if form == "griptasks":
        other = "left" if side == "right" else "right"
        for grip in GRIPS:
            row[f"griptasks_{grip}_{side}"] = answer(rng, severity, 0, 4)
            row[f"griptasks_{grip}_{other}"] = answer(rng, 0.05, 0, 4)
        return
    items, low, high, _ = FORMS[form]
    for item in items:
        row[item] = answer(rng, severity, low, high)
    for item in rng.sample(items, gaps(rng, form)):
        row[item] = ""
    if form in ("dash", "quickdash") and works:
        for i in range(1, 5):
            row[f"{form}_work_{i}"] = answer(rng, severity, 1, 5)
    if form == "prwhe" and rng.random() < 0.7:
        row["prwhe_appearance_1"] = rng.choice([1, 2, 2, 3])
        row["prwhe_appearance_2"] = answer(rng, severity * 0.6, 0, 10)


def make_episodes(rng):
    names = list(CONDITIONS)
    episodes = []
    for n in range(48):
        year = rng.randint(1941, 1999)
        person = dict(patient=f"P{n + 1:03d}", sex=rng.choice(["female", "male"]), birth_year=year,
                      dominant_side=rng.choice(["right"] * 8 + ["left"]), works=2026 - year < 66 and rng.random() < 0.8)
        condition, side = names[n % 6], rng.choice(["right", "left"])
        index = AS_OF - dt.timedelta(days=rng.randint(20, 1000))
        episodes.append(episode(rng, person, "E1", condition, side, index))
        if n % 4 == 1 and n < 44:  # both sides: the other hand follows months later or came before
            other = "left" if side == "right" else "right"
            index = min(index + dt.timedelta(days=rng.choice([-150, 130, 200])), AS_OF - dt.timedelta(days=25))
            episodes.append(episode(rng, person, "E2", condition, other, index))
    # One revision, more than a year later: it closes the first operation of that hand.
    first = next(e for e in episodes if e["condition"] == "carpal tunnel" and e["index_date"] < AS_OF - dt.timedelta(days=600))
    first["closed_on"], first["closed_reason"] = first["index_date"] + dt.timedelta(days=430), "revision"
    first["named"] = True
    episodes.append(dict(first, episode="E3", index_date=first["closed_on"], procedure="revision of the release",
                         closed_on="", closed_reason="", course=[0.55, 0.50, 0.36, 0.28, 0.25, 0.24, 0.24]))
    return episodes


def episode(rng, person, name, condition, side, index):
    procedure, forms, course = CONDITIONS[condition]
    closed_on = closed_reason = ""
    if rng.random() < 0.12:
        day = index + dt.timedelta(days=rng.randint(60, 400))
        if day <= AS_OF:
            closed_on, closed_reason = day, rng.choice(["died", "withdrawn", "moved", "other"])
    return dict(person, episode=name, treated_side=side, index_date=index, condition=condition, procedure=procedure,
                forms=" ".join(forms), closed_on=closed_on, closed_reason=closed_reason,
                share="no" if rng.random() < 0.06 else "yes", course=course, named=False)


def make_sittings(rng, e):
    offset, worse, staying = rng.gauss(0, 0.07), rng.random() < 0.07, 1.0
    for v, (target, low, high) in enumerate(VISITS):
        day = target + (rng.randint(-30, -1) if v == 0 else round(rng.gauss(0, (high - low) / 7)))
        if v == 6 and rng.random() < 0.15:
            day = high + rng.randint(3, 20)  # late, outside every window
        if v == 1:
            day = rng.randint(2, 6) if rng.random() < 0.08 else max(day, 7)  # some too early for any window
        date = e["index_date"] + dt.timedelta(days=day)
        staying *= 1.0 if v < 2 else 0.93
        if date > AS_OF or e["closed_on"] and date > e["closed_on"] or rng.random() > staying:
            continue
        severity = e["course"][v] + offset + (0.11 * v if worse else 0)
        row = dict.fromkeys(COLUMNS, "")
        row.update(patient=e["patient"], completed_on=date, side=e["treated_side"], episode=e["episode"] if e["named"] else "",
                   mode=rng.choice(["paper", "web", "web", "phone"]), respondent="proxy" if rng.random() < 0.03 else "self",
                   language=rng.choice(["en"] * 9 + ["de"]))
        for form in e["forms"].split():
            if rng.random() >= 0.03:  # else the form is left blank
                fill(rng, row, form, severity + (0.06 if form == "bctq" and v == 1 else 0), e["treated_side"], e["works"])
        yield row


def write(name, columns, rows):
    with open(name, "w", newline="", encoding="utf-8") as f:
        out = csv.DictWriter(f, columns, extrasaction="ignore")
        out.writeheader()
        out.writerows(rows)


def long_layout(rows):
    """Some sittings with a BCTQ, a response a row."""
    out = []
    for r in [r for r in rows if r["bctq_symptom_1"] != ""][:6]:
        for column in BCTQ:
            out.append(dict(patient=r["patient"], completed_on=r["completed_on"], side=r["side"], instrument="bctq",
                            item=column[5:], response=r[column]))
    write("responses-long.csv", ["patient", "completed_on", "side", "instrument", "item", "response"], out)


def mistakes(rows, single):
    """Twelve different mistakes among good rows; mistakes.md says what each is called."""
    q = QUICK[:11]
    good = [r for r in rows if all(r[c] != "" for c in q)][:20]
    head = ["patient", "completed_on", "side", "episode", "quickdsh_3"] + q
    out = [dict({c: r[c] for c in ["patient", "completed_on", "side"] + q}, episode="", quickdsh_3="") for r in good]
    out[1]["quickdash_4"] = "7"
    out[2]["quickdash_5"] = "2,3"
    out[3]["patient"] = ""
    out[4]["completed_on"] = ""
    out[5]["completed_on"] = "03/04/2026"
    out[6]["completed_on"] = "2026-02-30"
    out[7]["completed_on"] = "2031-01-01"
    out[8]["side"] = "upper"
    out.insert(10, dict(out[9], quickdash_1=int(out[9]["quickdash_1"]) % 5 + 1))
    out[12]["patient"] = "P999"
    out[13]["episode"] = "E9"
    one = [i for i, row in enumerate(out) if i > 14 and row["patient"] in single][0]
    out[one]["episode"], out[one]["side"] = "E1", "left" if out[one]["side"] == "right" else "right"
    with open("responses-with-mistakes.csv", "w", newline="", encoding="utf-8") as f:
        table = csv.writer(f)
        table.writerow(head)
        for i, row in enumerate(out):
            table.writerow([row[c] for c in head] + (["surplus"] if i == 16 else []))


def main():
    rng = random.Random(20261125)
    episodes = make_episodes(rng)
    rows = [row for e in episodes for row in make_sittings(rng, e)]
    rows.sort(key=lambda r: (r["completed_on"], r["patient"], r["side"]))
    write("responses.csv", ["patient", "completed_on", "side", "episode", "mode", "respondent", "language"] + COLUMNS, rows)
    write("episodes.csv", ["patient", "episode", "treated_side", "index_date", "dominant_side", "sex", "birth_year", "condition",
                           "procedure", "forms", "closed_on", "closed_reason", "share"],
          sorted(episodes, key=lambda e: (e["patient"], e["episode"])))
    long_layout(rows)
    patients = [e["patient"] for e in episodes]
    mistakes(rows, {p for p in patients if patients.count(p) == 1})


if __name__ == "__main__":
    main()
