"""Checks the schemas of the program, and what it prints, by the library jsonschema.

Usage: check.py PROGRAM FOLDER, from the top of the tree; the folder is for the books that are made.
"""

import copy
import json
import subprocess
import sys
from pathlib import Path

from jsonschema import Draft202012Validator

# What is printed of one draft by a command of the same name as its schema; a report is what `measure` prints.
OF_A_DRAFT = {"report": "measure", "level": "level", "fit": "fit", "terms": "terms", "tighten": "tighten"}
# Keywords that ask something of a value: the tests' own checker knows these and stops at every other.
KNOWN = {
    "type", "minimum", "maximum", "minItems", "maxItems", "required", "anyOf", "$ref", "properties",
    "additionalProperties", "items", "$schema", "$defs", "title", "description", "format",
}
BRIEFS = {
    "plain": "panel: { trim: 8.5 x 8.5 in }\n",
    "strict": "book: { names: [Oona] }\npanel: { trim: 100 x 60 mm }\nterms: [storm, { term: kelp, must: true }]\n"
    "avoid: [magical journey]\nlimits: { words: 1..2, sentences: ..1 }\n",
    "german": "book: { language: de }\npanel: { trim: 8.5 x 8.5 in }\n",
}
DRAFTS = {
    "empty": "",
    "odd": "# Head\n\nWord 灯 &amp; &eacute; *it*.\n\n> q\n> — c\n\n## Other titles\n\nOne\n",
    "parts": "Zxqyw saw an extraordinary lighthouse.\n\n---\n\nIn order to be brave, it was 7.\n",
}


def printed(*command, folder="."):
    """The JSON that a command prints; 1 is a draft outside its limits, 2 one that cannot be read."""
    done = subprocess.run([PROGRAM, *command], cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1, 2), (command, done.stderr)
    return json.loads(done.stdout)


def keywords(schema):
    """Every keyword of a schema and of the schemas in it."""
    for keyword, value in schema.items():
        yield keyword
        if keyword in ("properties", "$defs"):
            for part in value.values():
                yield from keywords(part)
        elif keyword in ("items", "additionalProperties"):
            yield from keywords(value)
        elif keyword == "anyOf":
            for part in value:
                yield from keywords(part)


class Tally:
    """The schemas, and how many documents were held against each."""

    def __init__(self):
        names = [*OF_A_DRAFT, "compare", "panel", "unread"]
        self.schemas = {name: printed("schema", name) for name in names}
        self.counts = dict.fromkeys(names, 0)
        for name, schema in self.schemas.items():
            Draft202012Validator.check_schema(schema)
            strange = set(keywords(schema)) - KNOWN
            assert not strange, f"the schema {name} has keywords that the tests' checker does not know: {strange}"

    def hold(self, name, document):
        """Holds a document against a schema, and sees that it is refused where any key that must be there is taken away."""
        validator = Draft202012Validator(self.schemas[name])
        faults = [f"{fault.json_path}: {fault.message}" for fault in validator.iter_errors(document)]
        assert not faults, (name, faults)
        for key in self.schemas[name]["required"]:
            less = copy.copy(document)
            del less[key]
            assert not validator.is_valid(less), f"{name}: {key} is missing and nothing says so"
        self.counts[name] += 1


def hold_book(tally, folder, drafts):
    """Holds all that is printed of the drafts of a folder with a brief."""
    for draft in drafts:
        for schema, command in OF_A_DRAFT.items():
            tally.hold(schema, printed(command, str(draft), "--format", "json", folder=folder))
        tally.hold("panel", printed("panel", "--draft", str(draft), "--format", "json", folder=folder))
    tally.hold("panel", printed("panel", "--format", "json", folder=folder))
    if len(drafts) > 1:
        tally.hold("compare", printed("compare", str(drafts[0]), str(drafts[1]), "--format", "json", folder=folder))
        tally.hold("compare", printed("compare", *map(str, [*drafts[:2], drafts[0]]), "--format", "json", folder=folder))


def main(folder):
    """Holds the sample book, the marked blurbs, and drafts of every kind under briefs of every kind."""
    tally = Tally()
    hold_book(tally, "drafts", ["first.md", "second.md", "early.md"])
    tally.hold("terms", printed("terms", "first.md", "--story", "manuscript.txt", "--format", "json", folder="drafts"))
    for name, brief in BRIEFS.items():
        book = folder / name
        book.mkdir()
        (book / "brief.yaml").write_text(brief, encoding="utf-8")
        drafts = DRAFTS | {path.stem: path.read_text(encoding="utf-8") for path in Path("tests/blurbs").glob("*1.md")}
        for draft, text in drafts.items():
            (book / f"{draft}.md").write_text(text, encoding="utf-8")
        hold_book(tally, book, [f"{draft}.md" for draft in sorted(drafts)])
        both = printed("measure", "none.md", "empty.md", "--format", "json", folder=book)
        tally.hold("unread", both[0])
        tally.hold("report", both[1])
    for name, count in tally.counts.items():
        assert count > 0, f"nothing was held against the schema {name}"
        print(f"{name}: {count} documents keep to the schema")


if __name__ == "__main__":
    PROGRAM = str(Path(sys.argv[1]).resolve())
    main(Path(sys.argv[2]))
