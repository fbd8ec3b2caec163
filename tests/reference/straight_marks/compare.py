"""Straightens typeset text in several languages, has the program set its marks again, and counts those that come out wrong.

Use: compare.py PROGRAM FOLDER, where FOLDER has the Debian installation guide, unpacked. Nothing is kept.
"""

import collections
import glob
import html
import re
import subprocess
import sys

# Each language with the marks that its text is typeset with. The Dutch text has other marks than the table, and is left out; a
# few paragraphs of others have another house's marks, which are not counted.
LANGUAGES = {"de": "„“‚‘’…", "fr": "«»’…", "it": "«»“”’…", "sv": "”’…", "en": "“”‘’…"}
# The fewest marks that show anything.
FEWEST = 600
# Of a thousand marks that the text is typeset with, how many may come out wrong.
MOST_WRONG = 2
QUOTES = {mark: '"' for mark in "“”„«»"} | {mark: "'" for mark in "‘’‚‹›"}
MARKS = re.compile("[“”„«»\"‘’‚‹›'″′…—–]")
BLANKS = re.compile("[\u00a0\u202f]")


def paragraphs(folder, tag):
    """The paragraphs of the guide, without programs' words, which have a keyboard's marks on purpose."""
    for page in sorted(glob.glob(f"{folder}/**/{tag}/*.html", recursive=True)):
        with open(page, encoding="utf-8") as lines:
            text = lines.read()
        text = re.sub(r"<(pre|code|tt|script|style)\b.*?</\1>", "x", text, flags=re.S)
        for found in re.findall(r"<(?:p|dd|dt|li|td|h[1-6])\b[^>]*>(.*?)</(?:p|dd|dt|li|td|h[1-6])>", text, flags=re.S):
            words = " ".join(html.unescape(re.sub(r"<[^>]*>", "", found)).split(" "))
            words = re.sub(r"\s*\n\s*", " ", words).strip()
            if words and MARKS.search(words):
                yield words


def typed(text):
    """The text as a keyboard has it."""
    text = re.sub("«[\u00a0\u202f ]?", '"', text)
    text = re.sub("[\u00a0\u202f ]?»", '"', text)
    text = BLANKS.sub(" ", text).replace("…", "...").replace("—", "--").replace("–", "-")
    return "".join(QUOTES.get(letter, letter) for letter in text)


def plain(text):
    """The text with its blanks and dashes as a comparison of marks wants them: houses differ in both."""
    text = re.sub("«[\u00a0\u202f ]?", "«", text)
    text = re.sub("[\u00a0\u202f ]?»", "»", text)
    return BLANKS.sub(" ", text)


def marks(text):
    return [found for found in re.findall("[“”„«»\"‘’‚‹›'″′…]", text.replace("...", "…"))]


def main():
    program, folder = sys.argv[1:]
    failed = False
    for tag, own in LANGUAGES.items():
        texts = list(paragraphs(folder, tag))
        # A straight single mark of the original is an apostrophe; those who wrote it had the keyboard's.
        rows = [re.sub(r"(?<=\w)'(?=\w)", "’", text) for text in texts]
        told = subprocess.run([program, "straight_marks", tag], input="\n".join(map(typed, rows)) + "\n", capture_output=True, text=True, check=True)
        set_again = told.stdout.split("\n")[: len(rows)]
        count, asked, wrong, examples = 0, 0, 0, collections.Counter()
        for row, mended in zip(rows, set_again, strict=True):
            asked += mended.count("?'")
            wanted, got = marks(plain(row)), marks(plain(mended.replace("?'", "'")))
            count += sum(mark in own for mark in wanted)
            if len(wanted) != len(got):
                wrong += 1
                examples[f"{row[:70]} | {mended[:70]}"] += 1
                continue
            for one, other in zip(wanted, got):
                if one != other and one in own:
                    wrong += 1
                    examples[f"{one} came out {other}: {row[:60]}"] += 1
        share = 1000 * wrong / max(count, 1)
        print(f"{tag}: {count} marks, {wrong} wrong ({share:.1f} in 1,000), {asked} asked")
        for example, times in examples.most_common(8):
            print(f"    {times} x {example}")
        failed |= share > MOST_WRONG or count < FEWEST
    sys.exit(failed)


main()
