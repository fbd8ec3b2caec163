"""py-readability-metrics 1.4.5 on the same texts: each measure reckoned from the program's counts with its rules one by one.

The library finds sentences by data that must be downloaded, so it is given the program's; all else it counts itself. It
refuses fewer than 100 words, and fewer than 30 sentences for SMOG.
"""
import pathlib
import re

import readability
from chain import Chain
from general import automated, coleman_liau, dale_chall, dale_chall_above_5, flesch, flesch_kincaid, fog, smog, spache, spache_1953
from nltk.stem.porter import PorterStemmer
from nltk.tokenize import TweetTokenizer
from readability import Readability
from readability.text.analyzer import Analyzer

LIBRARY = "py-readability-metrics 1.4.5"

MARKS = "question marks, quotation marks and dashes are words"
PARTED = "words are parted at other places"
PARTS_OF_WORDS = "hyphens and apostrophes within words are counted as letters"
LETTERS_OF_MARKS = "marks that are taken for words have a letter each"
RULES = "syllables are guessed from groups of vowels, without a dictionary"
FACTOR = "0.38 in the place of 0.39"
CONSTANT = "the constant is added only above 5 % of difficult words"
COEFFICIENTS = "the coefficients of 1953 in the place of the revised ones"
STEMS = "text and list are cut to stems, which takes in other words, and leaves out irregular forms"
NAMES = "names are difficult"
REPEATS = "repeated words count each time"
UNFAMILIAR_MARKS = "marks that are taken for words are difficult"
CAPITALS = "any word with a capital is a name, and any with a hyphen a compound of easy words"
EASY = "compounds of easy words written together, and words made long by -es or -ed, are hard"


class Given:
    """The library's counts with the program's number of sentences."""

    def __init__(self, ours):
        sentences = [ours.text[start:end] for start, end in ours.sentences]
        Analyzer._tokenize_sentences = lambda analyzer, text: sentences
        self.library = Readability(ours.text)


class Counted:
    """One text by the library's rules, step by step from the program's counts."""

    def __init__(self, ours):
        self.ours, self.stemmer = ours, PorterStemmer()
        data = pathlib.Path(readability.__file__).parent / "data"
        self.lists = {name: set(map(str.strip, (data / f"{name}_porterstem.txt").open())) for name in ("dale_chall", "spache_easy")}
        self.tokens, at, rest = [], 0, list(ours.words)
        for token in TweetTokenizer().tokenize(ours.text):
            start = ours.text.find(token, at)
            at = start + len(token) if start >= 0 else at
            if not re.match(r"^[.,\/#!$%\'\^&\*;:{}=\-_`~()]$", token):
                inside = [word for word in rest if word.start >= start and word.start < at]
                rest = [word for word in rest if word not in inside]
                self.tokens.append((token, inside))

    def is_mark(self, token):
        return not any(map(str.isalnum, token))

    def in_words(self, chain):
        marks = sum(self.is_mark(token) for token, _ in self.tokens)
        chain.add(MARKS, "words", marks)
        chain.add(PARTED, "words", len(self.tokens) - marks - len(self.ours.words))

    def in_letters(self, chain):
        marks = sum(len(token) for token, _ in self.tokens if self.is_mark(token))
        chain.add(LETTERS_OF_MARKS, "characters", marks)
        within = sum(not letter.isalnum() for token, _ in self.tokens if not self.is_mark(token) for letter in token)
        chain.add(PARTS_OF_WORDS, "characters", within)

    def in_syllables(self, chain, key="syllables", of=lambda number: number, spoken="by_flesch"):
        marks = sum(of(syllables(token)) for token, _ in self.tokens if self.is_mark(token))
        chain.add(MARKS, key, marks)
        theirs = sum(of(syllables(token)) for token, _ in self.tokens if not self.is_mark(token))
        chain.add(RULES, key, theirs - sum(of(getattr(word, spoken)) for word in self.ours.words))

    def in_three_syllables(self, chain):
        self.in_syllables(chain, "three_syllables", lambda number: number >= 3, "syllables")

    def in_unfamiliar(self, chain, flag, name):
        is_outside = lambda token: self.stemmer.stem(token.lower()) not in self.lists[name]
        chain.add(UNFAMILIAR_MARKS, "unfamiliar", sum(is_outside(token) for token, _ in self.tokens if self.is_mark(token)))
        chain.step(REPEATS, unfamiliar=chain.counts["unfamiliar"] + self.repeats(flag))
        chain.add(NAMES, "unfamiliar", sum(getattr(word, flag) and word.name for word in self.ours.words))
        chain.step(STEMS, unfamiliar=sum(is_outside(token) for token, _ in self.tokens))

    def repeats(self, flag):
        """How often the words that the program counts once are repeated."""
        words = [word for word in self.ours.words if getattr(word, flag) and not word.name]
        return len(words) - self.ours.counts["unfamiliar_once" if flag == "spache" else "unfamiliar"]

    def in_hard(self, chain):
        words = self.ours.words
        not_excused = [word for word in words if word.by_flesch >= 3]
        chain.step(EASY, hard=sum(not word.name for word in not_excused))
        is_excused = lambda written: written[0].isupper() or "-" in written
        chain.step(CAPITALS, hard=sum(not is_excused(word.written) for word in not_excused))
        chain.step(RULES, hard=sum(syllables(token) >= 3 and not is_excused(token) for token, _ in self.tokens))


def syllables(word):
    """The library's rule."""
    word = word.lower()
    if len(word) <= 3:
        return 1
    word = re.sub("^y", "", re.sub("(?:[^laeiouy]es|[^laeiouy]e)$", "", word))
    return len(re.findall("[aeiouy]{1,2}", word))


def compare(table, texts):
    """Every measure of the library, on every text that is long enough for it."""
    for ours in texts:
        library, counts = Given(ours).library, ours.counts
        counted = Counted(ours)
        base = {"words": counts["words"], "sentences": counts["sentences"]}

        def chain(formula, *steps, **more):
            made = Chain(formula, **base, **more)
            for step in (counted.in_words, *steps):
                step(made)
            return made

        def add(key, theirs, made):
            table.add(LIBRARY, key, ours.path, ours.scores[key], theirs().score, made)

        if len(counted.tokens) >= 100:
            number, syllables_by_flesch = counts["letters_and_digits"], counts["syllables_by_flesch"]
            add("flesch_reading_ease", library.flesch, chain(flesch, counted.in_syllables, syllables=syllables_by_flesch))
            factor_in = with_factor(FACTOR, 0.38)
            made = chain(flesch_kincaid, counted.in_syllables, factor_in, syllables=syllables_by_flesch)
            add("flesch_kincaid_grade", library.flesch_kincaid, made)
            made = chain(lambda characters, words, sentences: automated(words, sentences, characters, words), counted.in_letters, characters=number)
            add("automated_readability_index", library.ari, made)
            add("coleman_liau_index", library.coleman_liau, chain(coleman_liau, counted.in_letters, characters=number))
            add("gunning_fog", library.gunning_fog, chain(fog, counted.in_hard, hard=counts["hard"]))
            made = chain(dale_chall, lambda made: counted.in_unfamiliar(made, "dale_chall", "dale_chall"), unfamiliar=counts["unfamiliar"])
            made.use(CONSTANT, dale_chall_above_5)
            add("dale_chall_1948", library.dale_chall, made)
            made = chain(spache, lambda made: counted.in_unfamiliar(made, "spache", "spache_easy"), unfamiliar=counts["unfamiliar_once"])
            made.use(COEFFICIENTS, spache_1953)
            add("spache_revised", library.spache, made)
        if counts["sentences"] >= 30:
            made = Chain(smog, sentences=counts["sentences"], three_syllables=counts["three_syllables"])
            counted.in_three_syllables(made)
            add("smog", lambda: library.smog(all_sentences=True), made)


def with_factor(cause, factor):
    """A step that exchanges the factor of sentence length in Flesch-Kincaid."""
    return lambda made: made.use(cause, lambda words, sentences, syllables: flesch_kincaid(words, sentences, syllables) - (0.39 - factor) * words / sentences)
