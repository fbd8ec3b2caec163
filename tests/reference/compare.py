"""Compares lines of two engines and names the rule behind each difference; explained.md tells of the rules."""
import re

WIDTH_TOLERANCE = 0.002
PLACE_TOLERANCE = 0.02
# The browser takes ascent, descent and half-leading in whole px, which are a 16th of a point or less here.
TOP_TOLERANCE = 0.1

# Name, engine, who may end a line there, how that line ends, how the next one begins. Two engines that fill first-fit
# first differ where one of them may end a line and the other may not.
RULES = [
    ("slash", "pango", "theirs", r"/$", r"^\w"),
    ("closing quote, blank, opening bracket", "pango", "ours", r"[”’]$", r"^\("),
    ("hyphen before a figure", "browser", "theirs", r"\w-$", r"^\d"),
    ("hyphen before a hyphen", "browser", "theirs", r"-$", r"^-"),
]

# What takes each rule's effect out of a text, so that all engines must agree on it: a word joiner forbids a break,
# and a zero width space allows one.
NEUTRAL = [
    (r"/(?=\w)", "/\u2060"),
    (r"(?<=[”’]) (?=\()", "\u200b "),
    (r"(?<=\w)-(?=\d)", "-\u2060"),
    (r"-(?=-)", "-\u2060"),
]


def neutral(text):
    for pattern, replacement in NEUTRAL:
        text = re.sub(pattern, replacement, text)
    return text


def printed(text):
    """A line as it is printed: a soft hyphen shows at the end alone, marks without width never."""
    text = text.rstrip(" \u200b")
    if text.endswith("\u00ad"):
        text = text[:-1] + "-"
    return re.sub("[\u00ad\u2060\u200b]", "", text).rstrip(" ")


def texts(lines):
    return [printed(line["text"]) for line in lines]


def rule_of(engine, ours, theirs):
    """The rule by which two lists of lines first differ, or None."""
    first = next((i for i, (a, b) in enumerate(zip(ours, theirs)) if a != b), None)
    if first is None:
        return None
    for name, of, who, end, start in RULES:
        lines = ours if who == "ours" else theirs
        following = lines[first + 1] if first + 1 < len(lines) else ""
        if of == engine and re.search(end, lines[first]) and re.search(start, following):
            return name
    return None


def show(what, ours, theirs):
    """The first lines that differ, for a person to read."""
    print("UNEXPLAINED " + what)
    for a, b in zip(ours + ["(no line)"], theirs + ["(no line)"]):
        if a != b:
            print("    ours   %r\n    theirs %r" % (a, b))
            return


class Table:
    """Rows of counts, printed at the end; a row with failures fails the run."""

    def __init__(self):
        self.rows, self.failures = [], 0

    def add(self, what, compared, same, explained, failures, note=""):
        self.rows.append((what, compared, same, explained, failures, note))
        self.failures += failures

    def show(self):
        heads = ("compared", "cases", "same", "explained", "failures", "")
        rows = [heads] + [tuple(str(cell) for cell in row) for row in self.rows]
        widths = [max(len(row[i]) for row in rows) for i in range(6)]
        for row in rows:
            cells = [row[0].ljust(widths[0])] + [row[i].rjust(widths[i]) for i in range(1, 5)] + [row[5]]
            print("  ".join(cells).rstrip())
