"""Copy and briefs of every shape that makes a program slow, as long as is asked."""

import itertools

BRIEF = """book: {{ title: The Tide Clock, names: [{names}] }}
panel: {{ trim: 8.5 x 8.5 in, keep_out: [{{ barcode: EAN-13, corner: foot-spine }}] }}
terms: [{terms}]
limits: {{ words: 40..100, longest_sentence: ..20, level: ..3 }}
type: {{ {type} }}
"""

PROSE = (
    "When the tide clock in the net loft stops, nobody on Merrow Quay knows when to launch the boats. Nobody but Imme, "
    "who has counted the waves since she was four. At this point in time she is really very small, and the harbour "
    "master makes a decision to wait for each and every boat. “Is it now?” asks her brother. It is a well-worn "
    "question: she has heard it before. "
)


def until(size, parts):
    """Parts in a row up to a size in bytes."""
    taken, length = [], 0
    for part in parts:
        if length + len(part.encode()) > size:
            break
        taken.append(part)
        length += len(part.encode())
    return "".join(taken)


def repeated(unit):
    return lambda size: unit * max(1, size // len(unit.encode()))


def numbered(form):
    """A form with a word in it that is always another."""
    letters = "bcdfghklmnprst"
    words = ("".join(pair[0] + vowel for pair, vowel in zip(word, "aeiou")) for length in range(2, 9)
             for word in itertools.product(letters, repeat=length))
    return lambda size: until(size, (form.format(word=word, name=word.title()) for word in words))


DRAFTS = {
    "prose in one paragraph": repeated(PROSE),
    "prose in paragraphs": repeated(PROSE.strip() + "\n\n"),
    "prose in lines": repeated(PROSE.strip() + "\\\n"),
    "one word again and again": repeated("by "),
    "one long word": repeated("na"),
    "words without an end": numbered("{word}"),
    "words that are all other": numbered("{word} "),
    "names that are all other": numbered("Here {name} came. "),
    "hyphens in a word": repeated("a-"),
    "hyphens": repeated("-"),
    "soft hyphens": repeated("na\u00ad"),
    "dashes": repeated("—"),
    "words between dashes": repeated("tide—"),
    "stops": repeated("."),
    "exclamation marks": repeated("! "),
    "ellipses": repeated("… "),
    "quotation marks": repeated("“"),
    "straight marks": repeated("'\""),
    "apostrophes": repeated("a'"),
    "abbreviations": repeated("A."),
    "figures": repeated("1"),
    "figures with commas": repeated("1,"),
    "slashes": repeated("a/"),
    "combining marks": lambda size: "a" + "\u0301" * (size // 2),
    "letters with marks": repeated("e\u0301"),
    "joiners": repeated("a\u200d"),
    "blanks without a break": repeated("na\u00a0"),
    "narrow blanks": repeated("na\u2009"),
    "Hebrew": repeated("השעון בנמל עמד מלכת. "),
    "Arabic": repeated("توقفت ساعة المد في الميناء. "),
    "Arabic without a blank": repeated("ساعة"),
    "Devanagari": repeated("घड़ी रुक गई। "),
    "Chinese": repeated("潮水钟停了。"),
    "Thai": repeated("นาฬิกาหยุดเดิน"),
    "pictures": repeated("🦀"),
    "letters that no font has": lambda size: until(size, (chr(code) for code in itertools.count(0x12000))),
    "scripts by turns": repeated("a я"),
    "forced line ends": repeated("a\\\n"),
    "lines": repeated("a\n"),
    "headings": repeated("# The tide\n\n"),
    "headings of names": repeated("## quote\n\nTide.\n\n"),
    "unknown headings": repeated("## tide\n\n"),
    "quotes": repeated("> Tide.\n> — Ann\n\n"),
    "quotes in one": repeated("> Tide.\n>\n> — Ann\n>\n"),
    "credits without an end": repeated("> — Ann\n"),
    "quotes in quotes": repeated(">"),
    "list": repeated("- tide\n"),
    "list in list": lambda size: until(size, (" " * depth + "- a\n" for depth in itertools.count(0, 2))),
    "rules": repeated("---\n\n"),
    "comments": repeated("<!-- tide -->"),
    "comments by turns": repeated("tide <!-- out --> "),
    "comments without an end": repeated("<!-- "),
    "tags": repeated("<b>"),
    "words in tags": repeated("<i>tide</i> "),
    "stars": repeated("*"),
    "stars before words": repeated("*a "),
    "stars about words": repeated("*a* "),
    "stars by turns": repeated("**a *a "),
    "underlines": repeated("_a_ "),
    "brackets": repeated("["),
    "links": repeated("[a](b) "),
    "pictures without an end": repeated("![a]("),
    "references": repeated("&amp;"),
    "backslashes": repeated("\\"),
    "backticks": lambda size: until(size, ("`" * count + "a" for count in itertools.count(1))),
    "tables": repeated("|a|\n"),
    "control signs": repeated("a\u0001"),
    "doublets": repeated("the the tide and and "),
    "small words": repeated("and by by to\n"),
    "wordy phrases": repeated("In order to go, at this point in time she is very, very sad. "),
    "wordy phrases in paragraphs": repeated("In order to go, at this point in time she is sad.\n\n"),
    "weak words": repeated("really very quite just "),
    "adjectives": repeated("big, small, old, new, "),
    "double blanks": repeated("a  b "),
    "openings": repeated("She goes. "),
    "passives": repeated("It was seen by us. "),
    "near terms": repeated("tide clok and clock of tide, tidal "),
    "terms": repeated("tide clock "),
    "a broken phrase": repeated("tide a b c d e f g "),
    "praise": repeated("“A triumph!” said Ann. "),
    "verbs in both tenses": repeated("He goes and went. "),
    "prices": repeated("$9.99 ages 4-8 "),
}


def listed(count, entry):
    return ", ".join(entry(at) for at in range(count))


def brief(terms="tide clock, tide, Merrow Quay", names="Imme", set_in="size: 12 pt"):
    return BRIEF.format(terms=terms, names=names, type=set_in)


def word(at):
    """A word that is another for another number."""
    letters = "bcdfghklmnprst"
    found = ""
    while True:
        found += letters[at % len(letters)] + "aeiou"[at % 5]
        at //= len(letters)
        if at == 0:
            return found


# Each with a draft of prose of the same size.
BRIEFS = {
    "ten thousand terms": lambda size: brief(terms=listed(10_000, lambda at: "tide " + word(at))),
    "ten thousand wordings of a term": lambda size: brief(
        terms="{ term: tide, also: [" + listed(10_000, lambda at: "tide " + word(at)) + "] }"
    ),
    "ten thousand names": lambda size: brief(names=listed(10_000, lambda at: word(at).title())),
    "a term of very many words": lambda size: brief(terms="tide " * (size // 5)),
    "a term of very many stars": lambda size: brief(terms='"' + "*" * size + '"'),
    "terms of stars": lambda size: brief(terms=listed(1_000, lambda at: f'"*tide* **{word(at)}**"')),
    "a very long name": lambda size: brief(names="Na" * (size // 2)),
    "lines chosen together": lambda size: brief(set_in="breaks: total-fit, align: justified"),
}
