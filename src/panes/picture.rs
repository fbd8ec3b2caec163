//! A face to scale, drawn from the drawing list that the proof is drawn from: the one that the cursor's copy stands on.
//!
//! Edges and keep-outs are drawn in whole cells. Lines of copy are strokes of dots, two across and four down in a cell,
//! each in its true place and of its true length.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Modifier, Style};

use super::ground::{FaceGround, GroundCells, unclear};
use super::put::{put, shortened};
use super::scale::{DOTS, PictureScale, middle};
use crate::art::lines::Grade;
use crate::art::on_art::JudgedLine;
use crate::brief::box_values::PanelBox;
use crate::brief::panel_values::{BoxId, CoverPart, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::desk::assessed::Assessed;
use crate::desk::event::Grip;
use crate::desk::mode::Mode;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::desk::theme::{Letters, Theme};
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::report::Drawing;
use crate::report::drawing::{Frame, FramePart, Line};
use crate::report::quiet::CalmFace;
use crate::units::nouns::counted;
use crate::units::{Length, Rect as Place};

/// The most rectangles of quiet room that are outlined: more lie on each other, and none of them is seen.
const MOST_QUIET: usize = 2;

/// The first character of the Braille block, which has a character for every pattern of eight dots.
const NO_DOTS: u32 = 0x2800;

/// What a picture shows.
#[derive(Debug, Clone)]
pub(super) struct Pictured<'a> {
    /// The face.
    pub(super) face: CoverFace,
    /// The face with its copy.
    pub(super) drawing: &'a Drawing,
    /// The line of copy that the cursor is in.
    pub(super) marked: Option<usize>,
    /// The box whose values are changed.
    pub(super) in_hand: Option<PanelBox>,
    /// The art behind the copy.
    pub(super) ground: Option<FaceGround<'a>>,
    /// What is to be told of the art, where it is not shown as its file has it.
    pub(super) art_told: Option<&'static str>,
    /// Quiet room on the art, while the panel is looked at or another is tried.
    pub(super) quiet: Vec<Place>,
}

impl<'a> Pictured<'a> {
    /// The panel of a draft that no cursor is in.
    pub(super) fn of_panel(state: &'a State, found: &'a Assessed) -> Option<Self> {
        let face = CoverFace::Panel;
        let ground = ground_of(state, found, face);
        let (drawing, art_told) = (found.drawing_of(face)?, state.art_told(face));
        Some(Self { face, drawing, marked: None, in_hand: None, ground, art_told, quiet: Vec::new() })
    }

    /// The face on which the cursor's copy stands; while another panel is tried the face in hand, which is the panel
    /// where that is the spine.
    pub(super) fn of(state: &'a State, sheet: &'a DraftSheet) -> Option<Self> {
        let marked = sheet.line_at_cursor();
        let face = match state.mode {
            _ if state.mode.shows_values() => match state.panel_tried().part {
                CoverPart::Face(face) => face,
                CoverPart::Spine => CoverFace::Panel,
            },
            _ => sheet.now.face_of(marked),
        };
        let (in_hand, ground) = (state.box_in_hand(), ground_of(state, &sheet.now, face));
        Some(Self {
            face,
            drawing: sheet.now.drawing_of(face)?,
            marked,
            in_hand,
            ground,
            art_told: state.art_told(face),
            quiet: quiet_of(state, sheet, face),
        })
    }
}

/// Quiet room on the art of a face, the largest first, while the panel has a page of its own.
fn quiet_of(state: &State, sheet: &DraftSheet, face: CoverFace) -> Vec<Place> {
    if !matches!(state.mode, Mode::Panel(_)) && state.mode.value_in_hand().is_none() {
        return Vec::new();
    }
    let found = CalmFace::of(&sheet.now.report, state.brief()).filter(|found| found.face == face);
    let rooms = found.into_iter().flat_map(|found| found.rooms);
    rooms.take(MOST_QUIET).map(|room| room.rect).collect()
}

/// The art behind a face.
fn ground_of<'a>(state: &'a State, found: &'a Assessed, face: CoverFace) -> Option<FaceGround<'a>> {
    let layout = state.brief().faces().find(|layout| layout.face == face)?;
    FaceGround::of(&layout, &found.report)
}

/// The area of the picture itself: the last row is kept for names that do not fit into their places.
pub(super) fn above_legend(area: Rect) -> Rect {
    Rect { height: area.height.saturating_sub(1), ..area }
}

/// The number of the line of copy drawn nearest to a place of the screen on the panel.
pub(super) fn line_at(drawing: &Drawing, area: Rect, at: Position) -> Option<usize> {
    let scale = PictureScale::of(drawing, above_legend(area)).filter(|scale| scale.whole().contains(at))?;
    let lines = drawing.lines().filter(|line| scale.holds(line));
    let away = |line: &&Line| {
        let stroke = scale.stroke(line);
        // Two places may have lines side by side: of those, the one that was pointed at is meant.
        let beside = stroke.x.saturating_sub(at.x).max(at.x.saturating_sub(stroke.right().saturating_sub(1)));
        (stroke.y.abs_diff(at.y), beside)
    };
    let nearest = lines.min_by_key(away);
    nearest.filter(|line| away(line).0 <= 1).map(|line| line.number)
}

/// The box of the face at a place of the screen, with what of it is there and where on the face; the one that lies
/// uppermost.
pub(super) fn box_at(
    panel: &WrittenPanel,
    drawing: &Drawing,
    area: Rect,
    at: Position,
) -> Option<(BoxId, Grip, (Length, Length))> {
    let scale = PictureScale::of(drawing, above_legend(area)).filter(|scale| scale.area.contains(at))?;
    panel.boxes().into_iter().rev().find_map(|found| {
        let rect = scale.cells(&found.rect);
        let (right, foot) = (rect.right().saturating_sub(1), rect.bottom().saturating_sub(1));
        let (head, left) = (at.y == rect.y, at.x.abs_diff(rect.x) <= 1);
        let is_corner = (head || at.y == foot) && (left || at.x.abs_diff(right) <= 1);
        // A small box has room for nothing but itself.
        let has_corners = rect.width >= 6 && rect.height >= 3;
        let grip = if is_corner && has_corners { Grip::Corner { head, left } } else { Grip::Whole };
        rect.contains(at).then(|| (found.id, grip, scale.place_at(at)))
    })
}

/// Where on the face a place of the screen lies, from the face's left edge and its head; outside the picture too.
pub(super) fn place_at(drawing: &Drawing, area: Rect, at: Position) -> Option<(Length, Length)> {
    PictureScale::of(drawing, above_legend(area)).map(|scale| scale.place_at(at))
}

/// Draws the face of the cursor's copy.
pub(super) fn of_cursor(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    if let Some(pictured) = Pictured::of(state, sheet).filter(|_| !area.is_empty()) {
        draw(&pictured, &state.theme, area, buffer);
    }
}

/// Draws a face, with the line of copy marked that the cursor is in. A flap is told by its name.
pub(super) fn draw(pictured: &Pictured<'_>, theme: &Theme, area: Rect, buffer: &mut Buffer) {
    let Pictured { face, drawing, .. } = pictured;
    let Some(scale) = PictureScale::of(drawing, above_legend(area)) else {
        let words = format!("no room to draw the {}", face.name());
        put(buffer, area.x, area.y, &shortened(&words, usize::from(area.width)), theme.faint, area);
        return;
    };
    let mut legend = Vec::new();
    match pictured.ground.as_ref().and_then(|ground| GroundCells::of(ground, (scale.area, scale.face), theme)) {
        None => draw_over(pictured, &scale, theme, None, &mut legend, buffer),
        Some(ground) => {
            let mut above = Buffer::empty(scale.whole());
            draw_over(pictured, &scale, theme, Some(&ground), &mut legend, &mut above);
            ground.draw(&above, theme, buffer);
            let below = Rect { y: scale.area.bottom(), height: scale.below, ..scale.area };
            for position in below.intersection(buffer.area).positions() {
                buffer[position].clone_from(&above[position]);
            }
        }
    }
    let legend = legend.iter().zip('a'..='z').map(|(name, letter)| format!("{letter} {name}"));
    let name = is_named_below(*face, &scale).then(|| face.name().to_owned());
    let grades = pictured.ground.iter().flat_map(|ground| grades_told(&ground.lines, theme));
    let art_told = pictured.art_told.map(str::to_owned);
    let legend: Vec<String> = name.into_iter().chain(art_told).chain(grades).chain(legend).collect();
    let (words, top) = (legend.join("   "), scale.whole().bottom());
    // The last row takes all that is left, shortened to show that there is more.
    let rows = wrap(&words, usize::from(area.right() - scale.area.x).max(1));
    for (row, y) in rows.into_iter().zip(top..area.bottom()) {
        let words = if y + 1 == area.bottom() { &words[row.start..] } else { words[row].trim_end() };
        put(buffer, scale.area.x, y, &shortened(words, usize::from(area.right() - scale.area.x)), theme.faint, area);
    }
}

/// Whether the name of a face stands below it, since its edge is too short.
fn is_named_below(face: CoverFace, scale: &PictureScale) -> bool {
    face != CoverFace::Panel && cells(face.name()) + 6 > usize::from(scale.area.width)
}

/// Draws the edges, the places and the lines of a face.
fn draw_over<'a>(
    pictured: &Pictured<'a>,
    scale: &PictureScale,
    theme: &Theme,
    ground: Option<&GroundCells>,
    legend: &mut Vec<&'a str>,
    buffer: &mut Buffer,
) {
    let Pictured { face, drawing, marked, in_hand, .. } = pictured;
    // From the undermost to the topmost: edges and keep-outs, quiet room, the box in hand, lines, names, words on art.
    for frame in drawing.frames() {
        draw_frame(frame, scale, theme, buffer);
        if let Some(ground) = ground.filter(|_| frame.part == FramePart::KeepOut) {
            ground.under_keep_out(scale.cells(&frame.rect), buffer);
        }
    }
    for rect in &pictured.quiet {
        let rect = scale.cells(rect);
        corners(rect, &theme.signs.inside, theme, buffer);
    }
    if *face != CoverFace::Panel && !is_named_below(*face, scale) {
        put(buffer, scale.area.x + 2, scale.area.y, &format!(" {} ", face.name()), theme.faint, scale.area);
    }
    if let Some(found) = in_hand {
        let rect = scale.cells(&found.rect);
        outline(rect, &theme.signs.panel, theme.strong, buffer);
        let name = visible(&found.name);
        if cells(&name) + 2 <= usize::from(rect.width) {
            put(buffer, rect.x + 1, rect.y, &name, theme.strong, scale.area);
        }
    }
    // A cell has one style for all its dots. Where other lines share cells with the marked one, it takes those cells
    // for itself, so that no part of another line is marked as well.
    let lines = drawing.lines().filter(|line| scale.holds(line));
    let (mut marked_ones, others): (Vec<&Line>, Vec<&Line>) = lines.partition(|line| *marked == Some(line.number));
    for line in others {
        draw_line(line, scale, if line.over { theme.accent } else { theme.faint }, theme, buffer);
    }
    if let Some(line) = marked_ones.pop() {
        let rect = scale.stroke(line);
        put(buffer, rect.x, rect.y, &" ".repeat(usize::from(rect.width)), Style::reset(), scale.whole());
        draw_line(line, scale, if line.over { theme.accent } else { theme.strong }, theme, buffer);
        let pointer = rect.x.saturating_sub(2).max(scale.area.x);
        put(buffer, pointer, rect.y, theme.signs.pointer, theme.strong, scale.whole());
    }
    // Names come last: what runs into a keep-out or quiet room does not hide which it is.
    for rect in pictured.quiet.iter().map(|rect| scale.cells(rect)) {
        put(buffer, rect.x + 1, rect.y, "quiet", theme.faint, rect);
    }
    for frame in drawing.frames().filter(|frame| frame.part == FramePart::KeepOut) {
        draw_name(frame, scale, theme, legend, buffer);
    }
    if let Some(ground) = ground {
        let judged = pictured.ground.as_ref().map_or(&[][..], |ground| &ground.lines);
        draw_words(drawing, scale, ground, buffer);
        for line in drawing.lines().filter(|line| scale.holds(line)) {
            if let Some(judged) = judged.iter().find(|judged| judged.line == line.number) {
                mark_unclear(line, judged, scale, theme, buffer);
            }
        }
    }
}

/// How many lines are lost on their art and how many are hard, each with the sign that marks them.
fn grades_told<'a>(lines: &'a [&JudgedLine], theme: &'a Theme) -> impl Iterator<Item = String> + 'a {
    let signs = theme.signs.grades;
    [(Grade::Lost, signs[1]), (Grade::Hard, signs[0])].into_iter().filter_map(|(grade, sign)| {
        let count = lines.iter().filter(|line| line.grade() == grade).count();
        (count > 0).then(|| format!("{sign} {} {}", counted(count, "line"), grade.name()))
    })
}

/// Marks a line that is not clear on its art by the sign of its grade before it, and its words that are not: strokes
/// become signs, and letters are underlined.
fn mark_unclear(line: &Line, judged: &JudgedLine, scale: &PictureScale, theme: &Theme, buffer: &mut Buffer) {
    let sign = |grade: Grade| theme.signs.grades[usize::from(grade == Grade::Lost)];
    let run = scale.stroke(line);
    if judged.grade() == Grade::Clear {
        return;
    }
    put(buffer, run.x.saturating_sub(1).max(scale.area.x), run.y, sign(judged.grade()), theme.accent, scale.area);
    for ((from, to), grade) in unclear(judged) {
        let words = scale.stroke(&Line { rect: Place { x: from, width: to - from, ..line.rect }, ..line.clone() });
        for position in words.intersection(run).positions() {
            let cell = &mut buffer[position];
            if is_stroke(cell.symbol(), theme) {
                cell.set_symbol(sign(grade));
            } else {
                cell.modifier.insert(Modifier::UNDERLINED);
            }
        }
    }
}

/// Writes the words of each line that has room for them: over art, where strokes alone would not show what is read.
fn draw_words(drawing: &Drawing, scale: &PictureScale, ground: &GroundCells, buffer: &mut Buffer) {
    let lines: Vec<(&Line, Rect)> =
        drawing.lines().filter(|line| scale.holds(line)).map(|line| (line, scale.stroke(line))).collect();
    for (at, (line, run)) in lines.iter().enumerate() {
        let is_alone = lines.iter().enumerate().all(|(other, (_, rect))| other == at || !rect.intersects(*run));
        let words = visible(&line.text);
        if is_alone && cells(&words) <= usize::from(run.width) {
            for position in run.positions() {
                buffer[position].set_symbol(" ");
            }
            let style = buffer[(run.x, run.y)].style();
            put(buffer, run.x, run.y, &words, style, *run);
        }
        ground.under_run(*run, buffer);
    }
}

/// Draws the name of a keep-out, in the row nearest to its middle in which no copy is drawn. One that does not fit in
/// is added to the legend, and its letter is drawn instead.
fn draw_name<'a>(
    frame: &'a Frame,
    scale: &PictureScale,
    theme: &Theme,
    legend: &mut Vec<&'a str>,
    buffer: &mut Buffer,
) {
    let rect = scale.cells(&frame.rect);
    let room = usize::from(rect.width).saturating_sub(2);
    let letter = ('a'..='z').nth(legend.len()).unwrap_or('z').to_string();
    let name = if cells(&frame.name) > room { letter.as_str() } else { frame.name.as_str() };
    if cells(&frame.name) > room {
        legend.push(&frame.name);
    }
    let x = rect.x + (usize::from(rect.width).saturating_sub(cells(name)) / 2) as u16;
    let middle = rect.y + rect.height.saturating_sub(1) / 2;
    let has_copy = |y: u16| {
        let cells = (x..x + cells(name) as u16).filter_map(|x| buffer.cell((x, y)));
        cells.into_iter().any(|cell| is_stroke(cell.symbol(), theme))
    };
    let mut rows: Vec<u16> = (rect.top()..rect.bottom()).collect();
    rows.sort_by_key(|y| y.abs_diff(middle));
    let y = rows.into_iter().find(|y| !has_copy(*y)).unwrap_or(middle);
    put(buffer, x, y, name, theme.faint, rect);
}

/// Whether a cell shows a part of a line of copy.
fn is_stroke(symbol: &str, theme: &Theme) -> bool {
    symbol == theme.signs.room[0] || symbol.chars().all(|sign| (NO_DOTS..NO_DOTS + 256).contains(&u32::from(sign)))
}

/// Draws an edge or a keep-out.
fn draw_frame(frame: &Frame, scale: &PictureScale, theme: &Theme, buffer: &mut Buffer) {
    let rect = scale.cells(&frame.rect);
    match frame.part {
        FramePart::Face => outline(rect, &theme.signs.panel, theme.faint, buffer),
        FramePart::LiveArea | FramePart::Place => corners(rect, &theme.signs.panel, theme, buffer),
        FramePart::KeepOut => {
            outline(rect, &theme.signs.inside, theme.faint, buffer);
        }
        // Bleed and the space round a keep-out are thinner than a cell.
        FramePart::Bleed | FramePart::Fold | FramePart::Clearance | FramePart::Quiet => {}
    }
}

fn outline(rect: Rect, signs: &[&str; 6], style: Style, buffer: &mut Buffer) {
    let (right, foot) = (rect.right().saturating_sub(1), rect.bottom().saturating_sub(1));
    for x in rect.left()..rect.right() {
        put(buffer, x, rect.y, signs[4], style, rect);
        put(buffer, x, foot, signs[4], style, rect);
    }
    for y in rect.top()..rect.bottom() {
        put(buffer, rect.x, y, signs[5], style, rect);
        put(buffer, right, y, signs[5], style, rect);
    }
    for ((x, y), sign) in [(rect.x, rect.y), (right, rect.y), (right, foot), (rect.x, foot)].into_iter().zip(signs) {
        put(buffer, x, y, sign, style, rect);
    }
}

/// Draws the corners only.
fn corners(rect: Rect, signs: &[&str; 6], theme: &Theme, buffer: &mut Buffer) {
    let (right, foot) = (rect.right().saturating_sub(1), rect.bottom().saturating_sub(1));
    for ((x, y), sign) in [(rect.x, rect.y), (right, rect.y), (right, foot), (rect.x, foot)].into_iter().zip(signs) {
        put(buffer, x, y, sign, theme.faint, rect);
    }
}

/// Draws a line of copy as a stroke as long as its words, between its baseline and the top of its small letters.
fn draw_line(line: &Line, scale: &PictureScale, style: Style, theme: &Theme, buffer: &mut Buffer) {
    let (from, y) = scale.dot(line.rect.x, middle(line));
    let (to, _) = scale.dot(line.rect.right(), middle(line));
    let row = scale.stroke(line).y;
    for dot in from..=to.max(from) {
        let column = scale.area.x + (dot / DOTS.0) as u16;
        let Some(cell) = buffer.cell_mut((column, row)) else { continue };
        match theme.letters {
            Letters::Console | Letters::Ascii => {
                cell.set_symbol(theme.signs.room[0]).set_style(style);
            }
            Letters::Unicode => {
                let before = cell.symbol().chars().next().map_or(0, u32::from);
                let dots = if (NO_DOTS..NO_DOTS + 256).contains(&before) { before - NO_DOTS } else { 0 };
                let sign = char::from_u32(NO_DOTS + (dots | bit(dot % DOTS.0, y % DOTS.1))).unwrap_or(' ');
                cell.set_char(sign).set_style(style);
            }
        }
    }
}

/// The bit of a dot in Unicode's Braille patterns (The Unicode Standard, section 21.1).
fn bit(column: usize, row: usize) -> u32 {
    const BITS: [[u32; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
    BITS[column.min(1)][row.min(3)]
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use proptest::prelude::{ProptestConfig, prop_assert, proptest};
    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;

    use super::super::scale::{PictureScale, middle};
    use super::{Pictured, above_legend, draw, draw_over};
    use crate::brief::Brief;
    use crate::brief::place::CoverFace;
    use crate::desk::theme::{Colours, Letters, Theme};
    use crate::draft::Draft;
    use crate::report::drawing::{DrawingItem, FramePart};
    use crate::report::{self, Drawing};
    use crate::setting::Faces;

    const BRIEF: &str = include_str!("../../drafts/brief.yaml");

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Whatever is in the proof's drawing list is drawn on the screen, at an equal part of the way across and down.
        #[test]
        fn the_picture_and_the_proof_agree(words in 1_usize..160, width in 8_u16..120, height in 5_u16..60) {
            let brief = Brief::read(BRIEF, Path::new("")).expect("the sample's brief");
            let faces = Faces::built_in();
            let draft = Draft::read(&"The lamp is out. ".repeat(words / 4 + 1));
            let report = report::assess(&draft, &brief, &faces);
            let drawing = Drawing::of(&report, &draft, &brief, &faces);
            let area = Rect::new(0, 0, width, height);
            let mut buffer = Buffer::empty(area);
            let (face, quiet) = (CoverFace::Panel, Vec::new());
            let (marked, in_hand, ground, art_told) = (None, None, None, None);
            let pictured = Pictured { face, drawing: &drawing, marked, in_hand, ground, art_told, quiet };
            draw(&pictured, &Theme::new(Colours::Sixteen, Letters::Unicode), area, &mut buffer);
            let Some(scale) = PictureScale::of(&drawing, Rect { height: height - 1, ..area }) else { return Ok(()) };
            let face = drawing.rect_of(FramePart::Face).expect("a face");
            let across = |x: crate::units::Length| x.to_pt() / face.width.to_pt() * f64::from(scale.area.width);
            let down = |y: crate::units::Length| y.to_pt() / face.height.to_pt() * f64::from(scale.area.height);
            for line in drawing.lines().filter(|line| middle(line) < face.foot()) {
                let cells = scale.stroke(line);
                prop_assert!((f64::from(cells.x - scale.area.x) - across(line.rect.x)).abs() <= 1.0);
                prop_assert!((f64::from(cells.right() - scale.area.x) - across(line.rect.right())).abs() <= 1.5);
                prop_assert!((f64::from(cells.y) - down(middle(line))).abs() <= 1.0);
                let inked = (cells.left()..cells.right()).all(|x| buffer[(x, cells.y)].symbol() != " ");
                prop_assert!(inked, "{} in {buffer:?}", line.text);
            }
            for frame in drawing.frames().filter(|frame| matches!(frame.part, FramePart::Face | FramePart::KeepOut)) {
                let cells = scale.cells(&frame.rect);
                prop_assert!((f64::from(cells.x - scale.area.x) - across(frame.rect.x)).abs() <= 1.0);
                prop_assert!((f64::from(cells.bottom()) - down(frame.rect.foot())).abs() <= 1.0);
                prop_assert!(buffer[(cells.x, cells.y)].symbol() != " ", "{} in {buffer:?}", frame.name);
            }
        }
    }

    /// The cells of the line in hand show that line alone: nothing of another line that shares them is marked with it.
    #[test]
    fn only_the_line_in_hand_is_marked() {
        let brief = Brief::read(
            "panel:\n  trim: 8 x 8 in\n  places:\n    - { name: one, holds: headline, edges: { foot: 7 in } }\n    - \
             { name: \
             two, holds: quote, edges: { head: 1.05 in, foot: 5 in } }\n",
            Path::new(""),
        )
        .expect("a brief");
        let words =
            "# Oona climbs the stairs of the lamp\n\nThe lamp is out.\n\n> \"A lamp of a book.\"\n> — Ida Voss\n";
        let (draft, faces) = (Draft::read(words), Faces::built_in());
        let report = report::assess(&draft, &brief, &faces);
        let drawing = Drawing::of(&report, &draft, &brief, &faces);
        let theme = Theme::new(Colours::Sixteen, Letters::Unicode);
        // What is left out changes nothing of where the others stand.
        let drawn = |shown: &Drawing, marked: Option<usize>, area: Rect| {
            let mut buffer = Buffer::empty(area);
            let (face, quiet) = (CoverFace::Panel, Vec::new());
            let scale = PictureScale::of(&drawing, above_legend(area)).expect("a picture");
            let pictured =
                Pictured { face, drawing: shown, marked, in_hand: None, ground: None, art_told: None, quiet };
            draw_over(&pictured, &scale, &theme, None, &mut Vec::new(), &mut buffer);
            buffer
        };
        let mut shared = 0;
        for area in [Rect::new(0, 0, 40, 20), Rect::new(0, 0, 60, 31), Rect::new(0, 0, 24, 9)] {
            let scale = PictureScale::of(&drawing, Rect { height: area.height - 1, ..area }).expect("a picture");
            for line in drawing.lines() {
                let alone = Drawing {
                    items: drawing
                        .items
                        .iter()
                        .filter(|item| !matches!(item, DrawingItem::Line(other) if other != line))
                        .cloned()
                        .collect(),
                };
                let (all, alone) = (drawn(&drawing, Some(line.number), area), drawn(&alone, Some(line.number), area));
                let plain = drawn(&drawing, None, area);
                let rect = scale.stroke(line);
                for x in rect.left()..rect.right() {
                    assert_eq!(all[(x, rect.y)], alone[(x, rect.y)], "{} at {x}", line.text);
                    shared += usize::from(plain[(x, rect.y)].symbol() != alone[(x, rect.y)].symbol());
                }
            }
        }
        assert!(shared > 0, "no two lines share a cell");
    }
}
