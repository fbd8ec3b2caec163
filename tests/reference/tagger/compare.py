"""Holds the parts of speech that the program gives the words of its own blurbs against another tagger's, denckring-en-pos.

Use: compare.py PROGRAM WHEEL FOLDER. That tagger agrees with its treebank, UD English-EWT, in 93.4 of 100 words; it is only asked here.
"""

import collections
import glob
import gzip
import importlib.util
import json
import re
import subprocess
import sys
import zipfile

# Of a hundred words of the open classes, how many must be the same.
LEAST_ALIKE = 85
GROUPS = {
    "Noun": "noun", "Plural": "noun", "Name": "noun", "Base": "verb", "Present": "verb", "Past": "verb", "Participle": "verb",
    "Gerund": "verb", "Adjective": "adjective", "Adverb": "adverb",
}
OTHERS = {"NOUN": "noun", "PROPN": "noun", "VERB": "verb", "ADJ": "adjective", "ADV": "adverb"}


def other_tagger(wheel, folder):
    with zipfile.ZipFile(wheel) as package:
        package.extractall(folder)
    spec = importlib.util.spec_from_file_location("perceptron", f"{folder}/denckring_en_pos/perceptron.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules["perceptron"] = module
    spec.loader.exec_module(module)
    with gzip.open(f"{folder}/denckring_en_pos/data/tagger.json.gz") as table:
        raw = json.load(table)
    return module.Tagger(
        weights=raw["weights"], tagdict=raw["tagdict"], classes=raw["classes"], vocabulary=frozenset(raw["vocabulary"])
    )


def sentences():
    for path in sorted(glob.glob("tests/blurbs/*.md")):
        with open(path, encoding="utf-8") as lines:
            text = re.sub(r"[#>*_]|<!--.*?-->", "", lines.read(), flags=re.S)
        for paragraph in text.split("\n\n"):
            for sentence in re.split(r"(?<=[.!?…])[”’\"']?\s+", " ".join(paragraph.split())):
                tokens = re.findall(r"\w+(?:[’'-]\w+)*|[^\w\s]", sentence)
                if len(tokens) > 3:
                    yield tokens


def main():
    program, wheel, folder = sys.argv[1:]
    tagger = other_tagger(wheel, folder)
    rows = list(sentences())
    told = subprocess.run(
        [program, "tagger"], input="\n".join(" ".join(row) for row in rows) + "\n", capture_output=True, text=True, check=True
    ).stdout.split("\n")
    alike, count, differ = 0, 0, collections.Counter()
    participles = collections.Counter()
    for row, line in zip(rows, told):
        own = [(word, tag) for word, tag in zip(row, line.split(" "), strict=True) if tag != "-"]
        labels = tagger.tag([word for word, _ in own])
        for (word, tag), label in zip(own, labels, strict=True):
            upos, _, form = label.partition("|")
            group, other = GROUPS.get(tag), OTHERS.get(upos)
            if group is None or other is None:
                continue
            count += 1
            alike += group == other
            differ[f"{group} for {other}"] += group != other
            one, two = tag == "Participle", upos == "VERB" and form == "Part" and not word.endswith("ing")
            participles["both"] += one and two
            participles["own"] += one
            participles["other"] += two
    share = 100 * alike / count
    print(f"{alike} of {count} words of the open classes are alike ({share:.1f} in 100)")
    print(", ".join(f"{times} {what}" for what, times in differ.most_common(8)))
    both, own, other = participles["both"], participles["own"], participles["other"]
    print(f"participles: {both} of the program's {own}, and of the other's {other}, are both's")
    timed = subprocess.run(
        [program, "tagger", "--time"], input="\n".join(" ".join(row) for row in rows) + "\n", capture_output=True, text=True, check=True
    )
    print(timed.stdout.strip())
    sys.exit(share < LEAST_ALIKE)


main()
