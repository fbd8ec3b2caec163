"""Holds the syllables of common words against the vowels that a speech synthesiser says in them: compare.py PROGRAM.

The words are the commonest of each language by wordfreq 3.1.1 that its Debian word list has; espeak-ng gives their sounds. A
vowel, a diphthong, and a consonant that carries a syllable are each one. The first two thousand words were in sight when the
rules were mended, the next two thousand were not. It fails where fewer agree than the floor below, in either.
"""
import re
import subprocess
import sys
import unicodedata

from wordfreq import top_n_list

WORDS = 2000
# The language, its tag, its word list, and the least agreement in a hundred words of either stretch.
LANGUAGES = [
    ("Spanish", "es", "spanish", 99.5),
    ("French", "fr", "french", 98.0),
    ("German", "de", "ngerman", 99.0),
    ("Italian", "it", "italian", 98.0),
    ("Dutch", "nl", "dutch", 98.0),
]
VOWELS = set("aeiouyæœøɑɒɐɔəɘɛɜɤɪɨɯɵɶʉʊʌʏᵻ")
SYLLABIC = "\u0329"
# Weak vowels, which lean on a neighbour where they bear no stress.
WEAK = {"es": set("iuɪʊ"), "it": set("iuɪʊ"), "fr": set("iyu")}


def common(tag, name):
    """The commonest words that the list has, without letters, abbreviations, and what the synthesiser takes for foreign."""
    with open(f"/usr/share/dict/{name}", encoding="utf-8") as lines:
        known = {line.strip() for line in lines}
    spelt = {word.lower(): word for word in sorted(known, reverse=True)}
    words = (spelt.get(word) for word in top_n_list(tag, 30 * WORDS) if len(word) > 1 and word.isalpha())
    plain = [word for word in words if word and word[1:].islower() and VOWELS & letters(word.lower())][: 3 * WORDS]
    rows = [(word, sounds) for word, sounds in zip(plain, spoken(tag, plain), strict=True) if "(" not in "".join(sounds)]
    return rows[: 2 * WORDS]


def letters(text):
    return set(unicodedata.normalize("NFD", text))


def spoken(tag, words):
    """The sounds of each word, with the marks of stress before the vowels that bear it."""
    call = ["espeak-ng", "-q", "--ipa", "--sep=_", "-v", tag]
    told = subprocess.run(call, input="\n".join(words) + "\n", capture_output=True, text=True, check=True).stdout
    return [re.split(r"[_ ]+", row.strip()) for row in told.splitlines()]


def is_nucleus(sound):
    # The synthesiser has no sign for the vowel of German "durch" and writes question marks.
    return bool(VOWELS & letters(sound)) or SYLLABIC in letters(sound) or "?" in sound


def is_stressed(sound):
    return "ˈ" in sound


def syllables(tag, word, sounds):
    """The syllables in the sounds, read as the orthographies read them where the synthesiser does not.

    Spanish and Italian: a weak vowel without stress and its neighbour are one (Real Academia Española, Ortografía, 2010). French:
    so is a weak vowel before another, unless a consonant and l or r stand before it, and a last mute e is none. German: the i of
    `Nation` is one, as slow speech has it (Deutsche Rechtschreibung, section 107), and the synthesiser's j is none.
    """
    vowels = [is_nucleus(sound) for sound in sounds]
    count = sum(vowels)
    for at, sound in enumerate(sounds):
        before, after = at > 0 and vowels[at - 1], at + 1 < len(sounds) and vowels[at + 1]
        plain = sound.strip("ˈˌ")
        if not vowels[at] or plain not in WEAK.get(tag, ()) or (is_stressed(sound) and tag != "fr"):
            continue
        if tag == "fr":
            is_cluster = at > 1 and sounds[at - 1] in ("l", "ʁ") and not vowels[at - 2]
            is_glide = after and (not is_cluster or (plain == "y" and sounds[at + 1].strip("ˈˌ") == "i"))
        else:
            # Of two weak vowels without stress one is left.
            is_glide = after or (before and not (sounds[at - 1].strip("ˈˌ") in WEAK[tag] and not is_stressed(sounds[at - 1])))
        count -= is_glide
    if tag == "fr" and sum(vowels) > 1 and sounds[-1].strip("ˈˌ-") == "ə":
        count -= 1
    if tag == "de":
        glides = re.findall("[^ˈˌ_aeiouɪʊəɛɔ]_j_", "_".join(sounds))
        count += max(0, len(glides) - word.lower().count("j"))
    return count


def counted(program, tag, words):
    told = subprocess.run([program, "syllables_abroad", tag], input="\n".join(words) + "\n", capture_output=True, text=True, check=True).stdout
    return [int(row) for row in told.splitlines()]


def is_mute_e(tag, word, mine, number):
    """Whether the counts differ by no more than the mute e's inside a French word, each between two consonants and a vowel."""
    inside = re.findall("(?<=[bcdfghjklmnpqrstvxz])e(?=[bcdfghjklmnpqrstvxz]h?[aàâeéèêiîoôuûy])", word)
    return tag == "fr" and 0 < mine - number <= len(inside)


def agreed(language, tag, rows, most):
    """The agreement in a hundred words, printed with examples of the rest."""
    others = [row for row in rows if row[1] != row[2]]
    mute = [row for row in others if is_mute_e(tag, *row[:3])]
    rest = [f"{word} {mine} ({sounds} {number})" for word, mine, number, sounds in others if (word, mine, number, sounds) not in mute]
    share = 100 * (1 - len(rest) / len(rows))
    more = f", {len(mute)} of them but for a mute e inside, which the program counts" if mute else ""
    print(f"{language}: {share:.1f} of 100 words agree{more}; not so: {', '.join(rest[:most]) or 'none'}")
    return share


def main():
    program, most = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 6
    missed = []
    for language, tag, name, floor in LANGUAGES:
        known = common(tag, name)
        ours = counted(program, tag, [word for word, _ in known])
        rows = [(word, mine, syllables(tag, word, sounds), "".join(sounds)) for (word, sounds), mine in zip(known, ours, strict=True)]
        shares = [agreed(language, tag, part, most) for part in (rows[:WORDS], rows[WORDS:])]
        if min(shares) < floor or len(rows) < 2 * WORDS:
            missed.append(f"{language} ({floor})")
    sys.exit(f"fewer agree than the floor, or words are missing: {', '.join(missed)}" if missed else 0)


if __name__ == "__main__":
    main()
