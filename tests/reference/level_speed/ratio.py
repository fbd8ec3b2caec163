"""Prints texts a second of both sides and their ratio: ratio.py TIMES. Of several runs the best counts for each side.

What counts is the first round, in which each text is new to both; the lists are loaded before. From the second round on
textstat answers in part out of what it remembers of the same words, and the program, which remembers nothing, counts them
again: this ratio is printed too. A hundred times as many texts are wanted; where there are fewer it says so and fails.
"""
import sys

TEXTS, WANTED = 1000, 100


def main():
    best = {}
    with open(sys.argv[1], encoding="utf-8") as rows:
        for row in rows:
            cells = row.split()
            if len(cells) == 4 and cells[0] in ("ours", "theirs"):
                name, first, again, measures = cells[0], float(cells[1]), float(cells[2]), int(cells[3])
                old = best.get(name, (first, again, measures))
                best[name] = (min(first, old[0]), min(again, old[1]), measures)
    for name, (first, again, measures) in best.items():
        print("%-6s %2d measures, %8.0f texts a second at first, %8.0f at best" % (name, measures, TEXTS / first, TEXTS / again))
    ratios = [best["theirs"][at] / best["ours"][at] for at in (0, 1)]
    print("ours is %.1f times as fast at first, where %d is wanted; %.1f when the same texts come again" % (ratios[0], WANTED, ratios[1]))
    sys.exit(ratios[0] < WANTED)


if __name__ == "__main__":
    main()
