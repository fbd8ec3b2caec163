"""Makes documents with python-docx and odfpy and has the program read them; then opens what the program hands over.

Use: check.py PROGRAM FOLDER, where FOLDER is one to work in.
"""

import pathlib
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
import zipfile

import docx
from docx.shared import Pt
from odf.office import Annotation
from odf.opendocument import OpenDocumentText
from odf.style import Style, TextProperties
from odf.text import H, LineBreak, List, ListItem, Note, NoteBody, NoteCitation, P, S, Span, Tab

PROGRAM = pathlib.Path(sys.argv[1]).resolve()
FOLDER = pathlib.Path(sys.argv[2])
BRIEF = "book: { title: The Lamp at Gull Point, language: en }\npanel: { trim: 8.5 x 8.5 in }\n"

WANTED = """The Lamp at Gull Point

Every night, Oona climbs the stairs & counts the gulls. Always.

Tonight one
is missing.

“A lamp of a book.”
— Ida Voss, Harbour Gazette

R. Okafor-Lind lives by the sea.
"""


def run(*arguments, within=0):
    done = subprocess.run([PROGRAM, *arguments], cwd=FOLDER, capture_output=True, text=True)
    assert done.returncode in (0, 1), (arguments, done.returncode, done.stderr)
    return done.stdout, done.stderr


def handed(name, form):
    return run("handover", name, "-o", "-", "--format", form)


def word(name, styled):
    """A .docx of the library's own template, with its styles or by plain habits."""
    document = docx.Document()
    if styled:
        document.add_heading("The Lamp at Gull Point", 0)
    else:
        document.add_paragraph().add_run("The Lamp at Gull Point").bold = True
    first = document.add_paragraph("Every night, ")
    first.add_run("Oona").italic = True
    first.add_run(" climbs the stairs & counts the gulls. ").font.size = Pt(14)
    first.add_run("Always.").bold = True
    second = document.add_paragraph("Tonight one")
    second.add_run().add_break()
    second.add_run("is missing.")
    hidden = second.add_run("Hidden.")
    hidden.font.hidden = True
    if styled:
        document.add_paragraph("“A lamp of a book.”", style="Quote")
        document.add_paragraph("— Ida Voss, Harbour Gazette", style="Quote")
        document.add_heading("About the author", 2)
    else:
        document.add_paragraph("“A lamp of a book.” — Ida Voss, Harbour Gazette")
        document.add_paragraph("About the author")
    note = document.add_paragraph("R. Okafor-Lind lives by the sea.")
    document.add_comment(note.runs, text="By which one?", author="Per", initials="P")
    document.save(FOLDER / name)


def open_document(name):
    """An .odt with styles, a footnote and a comment."""
    document = OpenDocumentText()
    quotation = Style(name="Quotations", family="paragraph")
    document.styles.addElement(quotation)
    italic = Style(name="T1", family="text")
    italic.addElement(TextProperties(fontstyle="italic"))
    bold = Style(name="T2", family="text")
    bold.addElement(TextProperties(fontweight="bold"))
    for style in (italic, bold):
        document.automaticstyles.addElement(style)
    document.text.addElement(H(outlinelevel=1, text="The Lamp at Gull Point"))
    first = P(text="Every night, ")
    first.addElement(Span(stylename=italic, text="Oona"))
    first.addText(" climbs the stairs & counts the gulls. ")
    first.addElement(Span(stylename=bold, text="Always."))
    second = P(text="Tonight one")
    second.addElement(LineBreak())
    second.addText("is missing.")
    note = Note(noteclass="footnote", id="n1")
    note.addElement(NoteCitation(text="1"))
    body = NoteBody()
    body.addElement(P(text="A footnote."))
    note.addElement(body)
    second.addElement(note)
    comment = Annotation()
    comment.addElement(P(text="A comment."))
    second.addElement(comment)
    for paragraph in (first, second):
        document.text.addElement(paragraph)
    for words in ("“A lamp of a book.”", "— Ida Voss, Harbour Gazette"):
        document.text.addElement(P(stylename=quotation, text=words))
    document.text.addElement(H(outlinelevel=2, text="About the author"))
    document.text.addElement(P(text="R. Okafor-Lind lives by the sea."))
    document.save(FOLDER / name)


def check_in():
    word("styled.docx", styled=True)
    word("plain.docx", styled=False)
    open_document("styled.odt")
    for name, told in [
        ("styled.docx", "1 comment and 1 stretch of hidden text were left out"),
        ("plain.docx", "1 comment and 1 stretch of hidden text were left out"),
        ("styled.odt", "1 comment and 1 footnote or endnote were left out"),
    ]:
        before = (FOLDER / name).read_bytes()
        text, complained = handed(name, "text")
        assert text == WANTED, (name, text)
        assert told in complained, (name, complained)
        page, _ = handed(name, "html")
        assert "<em>Oona</em>" in page and "<strong>Always.</strong>" in page, (name, page)
        for command in ("measure", "fit", "level", "terms", "tighten", "words"):
            run(command, name)
        run("panel", "--draft", name)
        assert (FOLDER / name).read_bytes() == before, name
    run("compare", "styled.docx", "styled.odt")
    print("in: 3 documents read back with what was put in")


def check_out():
    run("handover", "styled.docx", "-o", "out.docx")
    assert zipfile.ZipFile(FOLDER / "out.docx").testzip() is None
    document = docx.Document(FOLDER / "out.docx")
    found = [(paragraph.style.name, paragraph.text) for paragraph in document.paragraphs]
    assert found == [
        ("Headline", "The Lamp at Gull Point"),
        ("Blurb", "Every night, Oona climbs the stairs & counts the gulls. Always."),
        ("Blurb", "Tonight one\nis missing."),
        ("Quote", "“A lamp of a book.”"),
        ("Credit", "— Ida Voss, Harbour Gazette"),
        ("Note on the author", "R. Okafor-Lind lives by the sea."),
    ], found
    looks = {run.text: (bool(run.bold), bool(run.italic)) for run in document.paragraphs[1].runs}
    assert looks["Oona"] == (False, True) and looks["Always."] == (True, False), looks
    # Saved again by the library, as by a designer, it is the same draft.
    document.save(FOLDER / "again.docx")
    assert handed("again.docx", "text")[0] == WANTED
    assert handed("again.docx", "html")[0] == handed("styled.docx", "html")[0]
    record, _ = handed("styled.docx", "onix")
    name = "{http://ns.editeur.org/onix/3.0/reference}"
    texts = ElementTree.fromstring(record.encode()).findall(f"{name}TextContent")
    assert [text.find(f"{name}TextType").text for text in texts] == ["10", "05", "06", "12"], record
    print("out: a document opened by another library, styles and emphasis kept; a record that is XML")


(FOLDER / "brief.yaml").write_text(BRIEF)
check_in()
check_out()
