"""Prints the times of both sides with their ratios and targets, and fails where a target is missed.

Use: ratios.py TIMES, with rows of name, least and median microseconds, and what else is told; of several runs the
quickest median counts.
"""
import sys

# What is timed, beside what, and how many times as fast it has to be.
RATIOS = [
    ("ours again", "pango again", 25),
    ("ours cold", "pango cold", 6),
    ("ours shape, new words", "pango cold", None),
    ("ours shape, new words", "harfbuzz shape", None),
]
# What may take so many microseconds at the most.
LIMITS = [("ours all sizes", 150)] + [
    ("ours total fit, %d words, %s" % (words, form), most)
    for words, most in ((150, 300), (400, 1000))
    for form in ("ragged", "ragged, hyphenated", "justified", "justified, hyphenated")
]


def medians(path):
    best = {}
    with open(path, encoding="utf-8") as rows:
        for row in rows:
            cells = row.rstrip("\n").split("\t")
            if len(cells) >= 3:
                name, median = cells[0], float(cells[2])
                best[name] = min(median, best.get(name, median))
    return best


def main():
    times, missed = medians(sys.argv[1]), 0
    for name, median in times.items():
        print("%-48s %9.1f us" % (name, median))
    print()
    for ours, theirs, wanted in RATIOS:
        ratio = times[theirs] / times[ours]
        kept = wanted is None or ratio >= wanted
        missed += not kept
        target = "" if wanted is None else ", at least %d wanted%s" % (wanted, "" if kept else ": MISSED")
        print("%s is %.1f times as fast as %s%s" % (ours, ratio, theirs, target))
    for ours, most in LIMITS:
        kept = times[ours] <= most
        missed += not kept
        print("%s takes %.0f us, at most %d wanted%s" % (ours, times[ours], most, "" if kept else ": MISSED"))
    sys.exit(missed > 0)


if __name__ == "__main__":
    main()
