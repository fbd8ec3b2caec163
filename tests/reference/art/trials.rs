//! Sets copy on pictures, and prints how well the program says that each line can be read there.
//!
//! Use: art_trials windows PICTURE... prints what lies in some windows of pictures, binary PPMs of which a cell is a
//! pixel: `picture`, `window` (`[x, y, width, height]` in pixels), `luminance`, `lightness` and `spread`.
//!
//! Use: art_trials lines TRIALS FOLDER. TRIALS is JSON, a list of trials: `name`, `ground` (a binary PPM at 300 pixels
//! an inch), `ink` (`[red, green, blue]`), `size` (points), `font` (`serif` or `sans`) and `text`. For each set line a
//! row of JSON is printed: `picture`, a PPM that is written into the folder with the line drawn on its ground; `text`;
//! `ink` as lightness; `stand_out`, `contrast`, `mean_contrast` and `grade`; and, where the line is not clear, `tint`,
//! the least opacity that mends it, with `tinted`, a PPM of the line on it. Then, for each mend that is offered for the
//! whole page, the page is set again by a brief that has it, and of each of its lines there is a row with `mend`
//! (`ink`, `tint`, `place` or `larger`), `was_clear` (whether the line was so before), `text`, `picture`, `ink` and
//! `grade`; a mend that is said to be in vain is a row of `vain` alone.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use blurbwright::art::lines::{Grade, InkedLine, judged};
use blurbwright::art::mends::least_tint;
use blurbwright::art::placement::PlacedArt;
use blurbwright::art::{Ground, lettering};
use blurbwright::artwork::ground::TintLight;
use blurbwright::artwork::light::InkLight;
use blurbwright::artwork::picture::{ColourModel, Picture, PixelRect};
use blurbwright::artwork::{ArtFile, KeptGrounds};
use blurbwright::brief::Brief;
use blurbwright::brief::colour::Colour;
use blurbwright::draft::{BlockKind, Draft};
use blurbwright::report::mends::{ArtAdvice, Mend, VainMend};
use blurbwright::report::{Report, assess};
use blurbwright::setting::glyphs::{self, GlyphRun};
use blurbwright::setting::lines::SetLine;
use blurbwright::setting::outline::PathStep;
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use blurbwright::units::{Length, Rect};
use serde_json::{Value, json};
use tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, PremultipliedColorU8, Transform};

const PIXELS_PER_INCH: f64 = 300.0;
/// From baseline to baseline, so that no other line stands in the picture of one.
const LEADING: &str = "200%";
/// The margins, in inches.
const MARGIN: f64 = 0.25;

/// Prints what is in the windows of pictures, or what is thought of lines on them.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["windows", ref pictures @ ..] => pictures.iter().try_for_each(|path| windows(path)),
        ["lines", trials, folder] => {
            let faces = Faces::built_in();
            for trial in serde_json::from_str::<Vec<Value>>(&fs::read_to_string(trials)?)? {
                tried(&trial, Path::new(folder), &faces)?.iter().for_each(|row| println!("{row}"));
                mended(&trial, Path::new(folder), &faces)?.iter().for_each(|row| println!("{row}"));
            }
            Ok(())
        }
        _ => Err("neither windows nor lines is asked for".into()),
    }
}

/// What lies in some windows of a picture.
fn windows(path: &str) -> Result<(), Box<dyn Error>> {
    let picture = ppm(&fs::read(path)?).ok_or("a picture is no binary PPM")?;
    let (width, height) = (picture.width, picture.height);
    let hundredths = |pixels: usize| Length::inches(1.0) * pixels as i64 / 100;
    let rect = |[x, y, width, height]: [usize; 4]| Rect {
        x: hundredths(x),
        y: hundredths(y),
        width: hundredths(width),
        height: hundredths(height),
    };
    let whole = PixelRect { x: 0.0, y: 0.0, width: width as f64, height: height as f64 };
    let ground = Ground::of(&picture, &whole, rect([0, 0, width, height]));
    let inside = [width / 3, height / 3, width / 5, height / 7];
    for window in [[0, 0, width, height], inside, [width / 2, 0, 31, 17], [0, height / 2, 1, 1]] {
        let light = ground.light_in(&rect(window));
        let row = json!({
            "picture": path, "window": window, "luminance": light.luminance, "lightness": light.lightness,
            "spread": light.spread,
        });
        println!("{row}");
    }
    Ok(())
}

fn words<'v>(trial: &'v Value, key: &str) -> Result<&'v str, String> {
    trial[key].as_str().ok_or_else(|| format!("{key} is missing in {trial}"))
}

/// Every line of one trial.
fn tried(trial: &Value, folder: &Path, faces: &Faces) -> Result<Vec<Value>, Box<dyn Error>> {
    let picture = ppm(&fs::read(words(trial, "ground")?)?).ok_or("the ground is no binary PPM")?;
    let colour = colour_of(trial);
    let inches = |pixels: usize| pixels as f64 / PIXELS_PER_INCH;
    let size = trial["size"].as_f64().ok_or("size is missing")?;
    let (width, height) = (inches(picture.width), inches(picture.height));
    let yaml = format!(
        "panel: {{ trim: {width} x {height} in, bleed: 0 in, margins: {MARGIN} in }}\n\
         type: {{ font: {}, size: {size} pt, leading: {LEADING} }}\n",
        words(trial, "font")?
    );
    let brief = Brief::read(&yaml, Path::new("")).map_err(|fault| fault.to_string())?;
    let draft = Draft::read(words(trial, "text")?);
    let copy = ShapedCopy::shape(&draft, &brief.typography, faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(&brief));
    let area = brief.panel.face();
    let placed = PlacedArt::covering((picture.width, picture.height), area).ok_or("the ground has no pixels")?;
    let ground = Ground::of(&picture, &placed.source, placed.rect);
    let ink = InkLight::of(colour);
    let over = if ink.is_dark() { [255; 3] } else { [0; 3] };
    let mut rows = Vec::new();
    for (number, line) in setting.lines.iter().filter(|line| !line.over).enumerate() {
        let Some(paragraph) = copy.paragraphs.get(line.paragraph) else { continue };
        let form = brief.typography.of(BlockKind::Blurb);
        let runs = glyphs::of_line(line, paragraph, &form.font, form.size);
        let letters = lettering::of_line(line, paragraph, &runs, form.size);
        let found = judged(&letters, &ink, &ground);
        let whole = letters.window().map(|window| ground.light_in(&window)).ok_or("a line without words")?;
        let name = format!("{}-{number}", words(trial, "name")?);
        let write = |name: &str, tint: f64| -> Result<String, Box<dyn Error>> {
            let path = folder.join(name);
            let tint = TintLight { colour: over, opacity: tint };
            fs::write(
                &path,
                drawn(&picture, &boxed(line).within(&area), &tint, colour, (&runs, faces)).ok_or("no picture")?,
            )?;
            Ok(path.display().to_string())
        };
        let mut row = json!({
            "trial": trial["name"], "kind": trial["kind"], "text": paragraph.block.text()[line.text.clone()],
            "picture": write(&format!("{name}.ppm"), 0.0)?, "ink": ink.lightness, "stand_out": found.stand_out,
            "contrast": found.contrast, "mean_contrast": ink.contrast_on(whole.luminance), "grade": found.grade.name(),
        });
        if found.grade != Grade::Clear
            && let Some(percent) = least_tint(&[InkedLine { letters: &letters, ink }], &ground, over)
        {
            row["tint"] = json!(percent);
            row["tinted"] = json!(write(&format!("{name}-tint.ppm"), f64::from(percent) / 100.0)?);
        }
        rows.push(row);
    }
    Ok(rows)
}

fn colour_of(trial: &Value) -> [u8; 3] {
    let channel = |at: usize| trial["ink"][at].as_u64().and_then(|channel| u8::try_from(channel).ok());
    [0, 1, 2].map(|at| channel(at).unwrap_or_default())
}

/// What a mend changes in a brief, as its author would write it.
struct PageKeys {
    ink: String,
    size: f64,
    head: f64,
    tint: Option<(Colour, u8)>,
}

impl PageKeys {
    /// The keys of a trial without a mend.
    fn of(trial: &Value) -> Option<Self> {
        let [red, green, blue] = colour_of(trial);
        let ink = format!("\"#{red:02x}{green:02x}{blue:02x}\"");
        Some(Self { ink, size: trial["size"].as_f64()?, head: MARGIN, tint: None })
    }

    /// The keys of a trial with a mend, and what the mend is called.
    fn mended(trial: &Value, mend: &Mend) -> Option<(Self, &'static str)> {
        let own = Self::of(trial)?;
        Some(match mend {
            Mend::Ink(colour) => (Self { ink: colour.to_string(), ..own }, "ink"),
            Mend::Tint { colour, percent } => (Self { tint: Some((*colour, *percent)), ..own }, "tint"),
            Mend::Move(by) => (Self { head: MARGIN + by.y.to_inches(), ..own }, "place"),
            Mend::Larger(size) => (Self { size: size.to_pt(), ..own }, "larger"),
        })
    }

    /// The brief of a page on a picture.
    fn brief(&self, trial: &Value, file: &Arc<ArtFile>) -> Result<Brief, Box<dyn Error>> {
        let inches = |pixels: usize| pixels as f64 / PIXELS_PER_INCH;
        let (width, height) = (inches(file.picture.width), inches(file.picture.height));
        let Self { ink, size, head, tint } = self;
        let tint = tint.map(|(colour, percent)| format!("tint: {{ colour: {colour}, opacity: {percent}% }},"));
        let yaml = format!(
            "panel: {{ trim: {width} x {height} in, bleed: 0 in, art: {{ file: back.png, placed: trim }}, {}\n\
             \x20 margins: {{ head: {head} in, foot: {MARGIN} in, spine: {MARGIN} in, fore-edge: {MARGIN} in }} }}\n\
             type: {{ font: {}, size: {size} pt, leading: {LEADING}, ink: {ink} }}\n",
            tint.unwrap_or_default(),
            words(trial, "font")?
        );
        let mut brief = Brief::read(&yaml, Path::new("")).map_err(|fault| format!("{fault}: {yaml}"))?;
        for art in brief.arts_mut() {
            art.pictures_mut().for_each(|picture| picture.read = Some(Arc::clone(file)));
        }
        Ok(brief)
    }
}

/// The lines of one trial on a page that has a mend, for each mend that is offered.
fn mended(trial: &Value, folder: &Path, faces: &Faces) -> Result<Vec<Value>, Box<dyn Error>> {
    let picture = ppm(&fs::read(words(trial, "ground")?)?).ok_or("the ground is no binary PPM")?;
    let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: KeptGrounds::default() };
    let file = Arc::new(file);
    let draft = Draft::read(words(trial, "text")?);
    let brief = PageKeys::of(trial).ok_or("size is missing")?.brief(trial, &file)?;
    let report = assess(&draft, &brief, faces);
    let mut rows = Vec::new();
    for mends in ArtAdvice::of(&report, &draft, &brief, faces).mends {
        for mend in &mends.helps {
            let (keys, name) = PageKeys::mended(trial, mend).ok_or("size is missing")?;
            let brief = keys.brief(trial, &file)?;
            let page = MendedPage { trial, name, draft: &draft, brief: &brief, tint: keys.tint };
            // Type of another size breaks into other lines.
            let was_clear = |line: usize| name != "larger" && !mends.lines.contains(&line);
            rows.extend(page.lines(&file.picture, folder, faces, was_clear)?);
        }
        rows.extend(mends.in_vain.iter().map(|vain| {
            let name = match vain {
                VainMend::Ink(_) => "ink",
                VainMend::Tint(_) => "tint",
                VainMend::Move => "place",
                VainMend::Larger => "larger",
            };
            json!({ "vain": name })
        }));
    }
    Ok(rows)
}

/// A page whose brief has a mend.
struct MendedPage<'a> {
    trial: &'a Value,
    name: &'static str,
    draft: &'a Draft,
    brief: &'a Brief,
    tint: Option<(Colour, u8)>,
}

impl MendedPage<'_> {
    fn lines(
        &self,
        picture: &Picture,
        folder: &Path,
        faces: &Faces,
        was_clear: impl Fn(usize) -> bool,
    ) -> Result<Vec<Value>, Box<dyn Error>> {
        let Self { trial, name, draft, brief, tint } = self;
        let report: Report = assess(draft, brief, faces);
        let art = report.legibility.as_ref().ok_or("the page has no art")?;
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let form = brief.typography.of(BlockKind::Blurb);
        let tint = TintLight {
            colour: tint.map_or([0; 3], |(colour, _)| colour.srgb()),
            opacity: tint.map_or(0.0, |(_, percent)| f64::from(percent) / 100.0),
        };
        let mut rows = Vec::new();
        for judged in &art.lines {
            let line = &report.fit.lines.get(judged.line).ok_or("a line is missing")?.set;
            let paragraph = copy.paragraphs.get(line.paragraph).ok_or("a paragraph is missing")?;
            let runs = glyphs::of_line(line, paragraph, &form.font, form.size);
            // The window that is judged and no more: busy art above a line is taken for letters.
            let part = judged.letters.window().ok_or("a line without words")?.within(&brief.panel.face());
            let path = folder.join(format!("{}-{}-{name}.ppm", words(trial, "name")?, judged.line));
            let colour = judged.colour.srgb();
            fs::write(&path, drawn(picture, &part, &tint, colour, (&runs, faces)).ok_or("no picture")?)?;
            rows.push(json!({
                "trial": trial["name"], "kind": trial["kind"], "mend": name, "was_clear": was_clear(judged.line),
                "text": paragraph.block.text()[line.text.clone()], "picture": path.display().to_string(),
                "ink": InkLight::of(colour).lightness, "grade": judged.grade().name(),
            }));
        }
        Ok(rows)
    }
}

/// The part of a face that is drawn of a line.
fn boxed(line: &SetLine) -> Rect {
    Rect { x: line.x, y: line.top, width: line.width, height: line.leading }.grown(Length::inches(0.08))
}

/// A binary PPM of 8 bits a channel.
fn ppm(bytes: &[u8]) -> Option<Picture> {
    let mut rest = bytes;
    let mut fields = Vec::new();
    while fields.len() < 4 {
        let end = rest.iter().position(u8::is_ascii_whitespace)?;
        fields.push(std::str::from_utf8(&rest[..end]).ok()?);
        rest = &rest[end + 1..];
    }
    let (width, height) = (fields[1].parse().ok()?, fields[2].parse().ok()?);
    let pixels = rest.chunks_exact(3).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    (fields[0] == "P6" && fields[3] == "255").then_some(Picture { width, height, pixels, model: ColourModel::Rgb })
}

/// A part of a picture with a tint and letters on it, as a binary PPM.
fn drawn(
    picture: &Picture,
    part: &Rect,
    tint: &TintLight,
    colour: [u8; 3],
    (runs, faces): (&[GlyphRun], &Faces),
) -> Option<Vec<u8>> {
    let pixels = |length: Length| (length.to_inches() * PIXELS_PER_INCH).round() as usize;
    let (left, head) = (pixels(part.x), pixels(part.y));
    let (width, height) = (pixels(part.width).max(1), pixels(part.height).max(1));
    let mut canvas = Pixmap::new(u32::try_from(width).ok()?, u32::try_from(height).ok()?)?;
    for (at, pixel) in canvas.pixels_mut().iter_mut().enumerate() {
        let below = picture.at(left + at % width, head + at / width);
        let over = |below: u8, over: u8| {
            (f64::from(below) + (f64::from(over) - f64::from(below)) * tint.opacity).round() as u8
        };
        let [red, green, blue] = [0, 1, 2].map(|channel| over(below[channel], tint.colour[channel]));
        *pixel = PremultipliedColorU8::from_rgba(red, green, blue, u8::MAX)?;
    }
    let mut paint = Paint::default();
    paint.set_color_rgba8(colour[0], colour[1], colour[2], u8::MAX);
    let scale = (PIXELS_PER_INCH / 72.0) as f32;
    let place = Transform::from_scale(scale, scale).post_translate(-(left as f32), -(head as f32));
    for run in runs {
        let face = faces.family(&run.font).face(run.emphasis);
        let em = run.size.to_pt() as f32;
        for glyph in &run.glyphs {
            let (x, y) = (glyph.at.x.to_pt() as f32, glyph.at.y.to_pt() as f32);
            let at = |[across, up]: [f32; 2]| (x + across * em, y - up * em);
            if let Some(path) = path(&face.outline(glyph.id).unwrap_or_default().steps, at) {
                canvas.fill_path(&path, &paint, FillRule::Winding, place, None);
            }
        }
    }
    let mut bytes = format!("P6\n{width} {height}\n255\n").into_bytes();
    bytes.extend(canvas.data().chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]));
    Some(bytes)
}

fn path(steps: &[PathStep], at: impl Fn([f32; 2]) -> (f32, f32)) -> Option<tiny_skia::Path> {
    let mut path = PathBuilder::new();
    for step in steps {
        match *step {
            PathStep::Move(to) => {
                let (x, y) = at(to);
                path.move_to(x, y);
            }
            PathStep::Line(to) => {
                let (x, y) = at(to);
                path.line_to(x, y);
            }
            PathStep::Quad(by, to) => {
                let ((bx, by), (x, y)) = (at(by), at(to));
                path.quad_to(bx, by, x, y);
            }
            PathStep::Curve(first, second, to) => {
                let ((ax, ay), (bx, by), (x, y)) = (at(first), at(second), at(to));
                path.cubic_to(ax, ay, bx, by, x, y);
            }
            PathStep::Close => path.close(),
        }
    }
    path.finish()
}
