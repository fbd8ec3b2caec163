"""Cuts a thousand texts of 158 words from the chapters of a novel, parted by form feeds: texts.py FOLDER OUT."""
import pathlib
import sys

WORDS, TEXTS = 158, 1000


def main():
    chapters = sorted(pathlib.Path(sys.argv[1]).glob("chapter_*.txt"), key=lambda path: int(path.stem.split("_")[1]))
    words = [word for path in chapters for word in path.read_text(encoding="utf-8").split()]
    texts = [" ".join(words[at * WORDS : (at + 1) * WORDS]) for at in range(TEXTS)]
    pathlib.Path(sys.argv[2]).write_text("\f".join(texts), encoding="utf-8")


if __name__ == "__main__":
    main()
