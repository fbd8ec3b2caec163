"""Times textstat's measures that the program has too, and prints seconds for the first round and the best of three.

It remembers what it counted; the first round is that of a program that is started for these texts.
"""
import pathlib
import sys
import time

import textstat

MEASURES = [
    textstat.flesch_reading_ease,
    textstat.flesch_kincaid_grade,
    textstat.automated_readability_index,
    textstat.coleman_liau_index,
    textstat.gunning_fog,
    textstat.smog_index,
    textstat.dale_chall_readability_score,
    textstat.dale_chall_readability_score_v2,
    textstat.spache_readability,
    textstat.lix,
    textstat.rix,
]


def main():
    texts = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8").split("\f")
    for measure in MEASURES:
        measure("Loads the dictionary.")
    rounds = []
    for _ in range(3):
        start = time.perf_counter()
        for text in texts:
            for measure in MEASURES:
                measure(text)
        rounds.append(time.perf_counter() - start)
    print("theirs", rounds[0], min(rounds), len(MEASURES))


if __name__ == "__main__":
    main()
