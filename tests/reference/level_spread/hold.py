"""Holds tables of how far the measures scatter against the one that is kept: hold.py KEPT SPEECHES ALICE NOVEL."""
import pathlib
import statistics
import sys

# A figure may depart by two in a hundred, which no band shows, so that a better count of some words needs no new table.
MOST = 0.02
# How many times as much stories scatter as speeches, at the lengths of blurbs: what the head of the kept table tells.
TOLD = {
    "alice": {"spache_revised": 1.4, "new_dale_chall_cloze": 1.0, "coleman_liau_index": 0.6},
    "novel": {"spache_revised": 1.7, "new_dale_chall_cloze": 1.4, "coleman_liau_index": 0.9},
}
LENGTHS_OF_BLURBS = ("50", "75", "100", "150")


def table(path):
    lines = [line.split() for line in pathlib.Path(path).read_text().splitlines() if not line.startswith("#")]
    return {row[0]: dict(zip(lines[0][1:], row[1:], strict=True)) for row in lines[1:]}


def main():
    kept, speeches, alice, novel = (table(path) for path in sys.argv[1:])
    wrong = []
    if {words: list(row) for words, row in kept.items()} != {words: list(row) for words, row in speeches.items()}:
        wrong.append("the lengths or the measures are not the same")
    else:
        for words, row in kept.items():
            for measure, figure in row.items():
                now = speeches[words][measure]
                # The figures are rounded, which departs by half a hundredth to either side.
                if abs(float(figure) - float(now)) > MOST * float(figure) + 0.005:
                    wrong.append("%s at %s words: %s is kept, %s is found" % (measure, words, figure, now))
    for name, found in (("alice", alice), ("novel", novel)):
        for measure, told in TOLD[name].items():
            times = [float(found[words][measure]) / float(speeches[words][measure]) for words in LENGTHS_OF_BLURBS]
            times = statistics.mean(times)
            print("%s: %s scatters %.2f times as much as in speeches; %.1f is told" % (name, measure, times, told))
            if abs(times - told) > 0.1:
                wrong.append("%s: %s scatters %.2f times as much, not %.1f" % (name, measure, times, told))
    if wrong:
        sys.exit("\n".join(wrong + ["wordlists/level-spread.txt has to be made again, from:", pathlib.Path(sys.argv[2]).read_text()]))
    print("The spread of each measure at each length is as in wordlists/level-spread.txt, within two in a hundred.")


if __name__ == "__main__":
    main()
