"""Reads what the program says of texts: its values and counts (`level --format json`) and every word (`level_parts`)."""
import json
import re
import subprocess
from dataclasses import dataclass, field

OPENS_SPEECH = re.compile(r"[:!?…\"“‘«„(]|\.\.\.")


@dataclass
class Word:
    """A word of the copy as the program read it."""

    written: str
    start: int
    end: int
    syllables: int
    basis: str
    hard: bool
    dale_chall: bool
    spache: bool
    name: bool = False

    @property
    def by_flesch(self):
        return 1 if self.basis in ("Figure", "Abbreviation") else self.syllables


@dataclass
class Ours:
    """One text: its words and sentences, and the program's values and counts by their keys."""

    path: str
    text: str
    words: list
    sentences: list
    scores: dict
    counts: dict
    gaps: list = field(default_factory=list)


def read(program, parts, brief, language, paths):
    """Both answers of the program on each file, held against each other."""
    level = [program, "level", "--format", "jsonl", "--brief", brief, *paths]
    told = subprocess.run(level, capture_output=True, text=True, check=True)
    words = subprocess.run([parts, "level_parts", language, *paths], capture_output=True, text=True, check=True)
    rows = zip(paths, told.stdout.splitlines(), words.stdout.splitlines(), strict=True)
    return [one(path, json.loads(level)["level"], json.loads(row)) for path, level, row in rows]


def one(path, level, row):
    text = row["text"]
    words = []
    for word in row["words"]:
        start, end = word["place"]
        flags = [word[key] > 0 for key in ("hard", "dale_chall", "spache")]
        words.append(Word(text[start:end], start, end, word["syllables"], word["basis"], *flags))
    ours = Ours(path, text, words, [tuple(place) for place in row["sentences"]], level["scores"], level["counts"])
    mark_names(ours)
    held_together(ours)
    return ours


def stem(word):
    return re.sub(r"'s?$", "", folded(word))


def folded(word):
    return word.lower().replace("’", "'").replace("‐", "-").replace("‑", "-")


def mark_names(ours):
    """Names by the program's rule, found anew: words that stand with a capital within a sentence where nothing opens speech."""
    firsts = {start for start, _ in ours.sentences}
    names = set()
    for before, word in zip(ours.words, ours.words[1:]):
        is_first = any(before.end <= start <= word.start for start in firsts)
        is_shouted = len(word.written) > 1 and word.written[1].isupper()
        if word.written[0].isupper() and not is_first and not is_shouted:
            if not OPENS_SPEECH.search(ours.text[before.end : word.start]):
                names.add(stem(word.written))
    for word in ours.words:
        plain = re.sub(r"(n't|'(s|d|m|ll|re|ve)?)$", "", folded(word.written))
        word.name = word.written[0].isupper() and (folded(word.written) in names or plain in names)


def held_together(ours):
    """What is counted word by word must be what the program counts in the whole."""
    words = ours.words
    sums = {
        "words": len(words),
        "sentences": len(ours.sentences),
        "syllables": sum(word.syllables for word in words),
        "syllables_by_flesch": sum(word.by_flesch for word in words),
        "three_syllables": sum(word.syllables >= 3 for word in words),
        "hard": sum(word.hard and not word.name for word in words),
        "unfamiliar": sum(word.dale_chall and not word.name for word in words),
        "unfamiliar_once": len({stem(word.written) for word in words if word.spache and not word.name}),
        "letters_and_digits": sum(letter.isalnum() for word in words for letter in word.written),
        "long": sum(sum(letter.isalpha() for letter in word.written) > 6 for word in words),
    }
    off = {key: (number, ours.counts[key]) for key, number in sums.items() if ours.counts[key] != number}
    if off:
        raise SystemExit(f"{ours.path}: counted anew, the counts are others than the program's: {off}")
