"""Cuts passages of about a hundred words from speeches, one paragraph a file: texts.py SPEECHES OUT."""
import pathlib
import re
import sys

EACH, WORDS = 4, 100


def main():
    for speech in sorted(pathlib.Path(sys.argv[1]).glob("*.txt")):
        year = int(speech.name.split("_")[0])
        if year < 1946:
            continue
        # Whole sentences, as far as a plain rule finds them.
        sentences = re.split(r"(?<=[.!?])\s+(?=[A-Z])", " ".join(speech.read_text(encoding="utf-8").split()))
        passages, words = [[]], 0
        for sentence in sentences:
            passages[-1].append(sentence)
            words += len(sentence.split())
            if words >= WORDS:
                passages.append([])
                words = 0
        for number, passage in enumerate(passages[1 : EACH + 1]):
            path = pathlib.Path(sys.argv[2]) / ("%s_%d.md" % (speech.stem, number))
            path.write_text(" ".join(passage) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
