"""textstat 0.7.13 on German, Spanish and Italian passages, by the same steps as in English.

For these languages it has no dictionary and counts all syllables by where words may be hyphenated in print.
"""
import pyphen
import textstat
from chain import Chain
from general import JOINED, LONE, MARKS, UNKNOWN, Counted, Rules

LIBRARY = "textstat 0.7.13 in other languages"
BASE = "206.84 in the place of 206.835"


class Printed(Rules):
    """The library's rules without a dictionary."""

    def __init__(self, tag):
        self.pronunciations, self.print = {}, pyphen.Pyphen(lang=tag)

    def why_syllables(self, token):
        return JOINED if len(token.words) > 1 else UNKNOWN


class CountedAbroad(Counted):
    """A text whose syllables are counted as spoken by the program's measures, figures too."""

    def of_each(self, chain, key, of):
        self.each(chain, key, lambda token: of(self.rules.syllables(token)), lambda word: of(word.syllables), self.rules.why_syllables)

    def in_all_syllables(self, chain):
        self.of_each(chain, "syllables", lambda number: number)

    def in_many_and_one(self, chain):
        self.of_each(chain, "many", lambda number: number >= 3)
        self.of_each(chain, "one", lambda number: number == 1)
        self.in_long(chain)


def ease(base, sentence, syllable):
    return lambda words, sentences, syllables: base - sentence * words / sentences - syllable * syllables / words


def wiener(many_, sentence, long_, one_, base):
    def value(words, sentences, many, one, long):
        return (100 * (many_ * many + long_ * long - one_ * one)) / words + sentence * words / sentences - base

    return value


WIENER = [
    wiener(0.1935, 0.1672, 0.1297, 0.0327, 0.875),
    wiener(0.2007, 0.1682, 0.1373, 0, 2.779),
    wiener(0.2963, 0.1905, 0, 0, 1.1144),
    wiener(0.2744, 0.2656, 0, 0, 1.693),
]


def gulpease(words, sentences, characters, chunks, parts):
    return 89 + 300 * sentences / parts - 10 * characters / chunks


def compare(table, tag, texts):
    """The measures of one language."""
    textstat.set_lang(tag)
    for ours in texts:
        counted, counts = CountedAbroad(ours, Printed(tag)), ours.counts
        base = {"words": counts["words"], "sentences": counts["sentences"]}

        def add(key, theirs, formula, last=None, steps=(), **more):
            made = Chain(formula, **base, **more)
            for step in (counted.in_words, counted.in_sentences, *steps):
                step(made)
            if last:
                made.use(*last)
            table.add(LIBRARY, key, ours.path, ours.scores[key], theirs(ours.text), made)

        syllables = {"steps": [counted.in_all_syllables], "syllables": counts["syllables"]}
        if tag == "de":
            add("amstad", textstat.flesch_reading_ease, ease(180, 1, 58.5), **syllables)
            for number, formula in enumerate(WIENER, start=1):
                many = {"many": counts["three_syllables"], "one": counts["one_syllable"], "long": counts["long"]}
                theirs = lambda text, number=number: textstat.wiener_sachtextformel(text, number)
                add(f"wiener_sachtextformel_{number}", theirs, formula, steps=[counted.in_many_and_one], **many)
        elif tag == "es":
            add("fernandez_huerta", textstat.fernandez_huerta, ease(206.84, 1.02, 60), **syllables)
            add("szigriszt_pazos", textstat.szigriszt_pazos, ease(206.835, 1, 62.3), (BASE, ease(206.84, 1, 62.3)), **syllables)
        else:
            add("gulpease", textstat.gulpease_index, gulpease, steps=[lambda made: chunks(counted, made)], characters=counts["letters"], chunks=counts["words"], parts=counts["words"])


def chunks(counted, made):
    """Gulpease: sentences a word by the library's words, characters a word by what stands between blanks, marks with them."""
    pieces = counted.ours.text.split()
    made.step(JOINED, parts=len(counted.tokens), chunks=len(counted.tokens))
    made.step(LONE, chunks=len(pieces))
    made.step(MARKS, characters=sum(map(len, pieces)))
