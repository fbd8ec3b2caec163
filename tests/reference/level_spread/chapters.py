"""Parts a story into its chapters, one paragraph a line, without titles and verses: chapters.py STORY OUT."""
import pathlib
import re
import sys


def main():
    story = pathlib.Path(sys.argv[1]).read_text(encoding="ascii").rstrip("\x1a")
    for number, chapter in enumerate(re.split(r"\n +CHAPTER [IVXL]+\n", story)[1:], 1):
        paragraphs = [paragraph.strip("\n") for paragraph in re.split(r"\n\s*\n", chapter)]
        # Titles and verses stand far in; a paragraph of prose begins two blanks in.
        prose = [p for p in paragraphs if p and not all(line.startswith("    ") for line in p.splitlines())]
        text = "\n\n".join(" ".join(p.split()) for p in prose)
        for typed, printed in (("`", "‘"), ("'", "’"), ("--", "—"), ("*", "")):
            text = text.replace(typed, printed)
        path = pathlib.Path(sys.argv[2]) / ("chapter_%02d.txt" % number)
        path.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
