//! A record of ONIX for Books 3 as a draft and the values of its brief.
//!
//! Only what stands in the record's own groups is read: the products that it contains, its collection and what it is
//! related to repeat the same tags. The codes are of EDItEUR's lists, which are named beside them.

use std::io::BufRead;

use super::copy_texts;
use super::languages;
use super::xml::{FeedFault, XmlElement, XmlRecords};
use crate::brief::BaseBrief;
use crate::brief::yaml::{Node, YamlStep};

/// A feed, read record by record.
pub struct Feed<R> {
    records: XmlRecords<R>,
    read: usize,
    is_over: bool,
}

impl<R: BufRead> Feed<R> {
    /// The feed in an input.
    pub fn new(input: R) -> Self {
        Self { records: XmlRecords::new(input), read: 0, is_over: false }
    }
}

/// Each record; where the feed cannot be read any further, the reason in its place, and nothing after it.
impl<R: BufRead> Iterator for Feed<R> {
    type Item = Result<OnixRecord, FeedFault>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.is_over {
            return None;
        }
        let found = self.records.next_record().map(|record| {
            self.read += 1;
            record.map(|product| OnixRecord::of(product, self.read))
        });
        self.is_over = !matches!(found, Ok(Some(_)));
        found.transpose()
    }
}

/// One record of a feed.
#[derive(Debug)]
pub struct OnixRecord {
    /// What the record calls itself, or its number in the feed where it has no name.
    pub name: String,
    product: XmlElement,
}

/// What a record has for a brief, over a base.
#[derive(Debug, Clone, PartialEq)]
pub struct OnixBook {
    /// The values, each with its place in a brief.
    pub values: Vec<(Vec<YamlStep>, Node)>,
    /// The copy as a draft's file would hold it.
    pub draft: String,
    /// What should be known of the panel, as a sentence without its stop; none where all is as it should be.
    pub note: Option<String>,
}

const NO_TRIM: &str = "it has no trim size, which a measure of type 04 and one of type 05 tell (page trim height and \
                       width)";
const NO_COPY: &str = "it has no copy: no text of type 05 (primary cover copy), 27 (secondary cover copy), 03 \
                       (description) or 02 (short description)";
const OF_CASE: &str = "the record has only the size of the whole cover; that of a case is a little larger than the \
                       trim, for which it is taken here";

impl OnixRecord {
    fn of(product: XmlElement, number: usize) -> Self {
        let reference = product.value("RecordReference");
        let name = if reference.is_empty() { format!("number {number}") } else { clipped(&reference) };
        Self { name, product }
    }

    /// The title of the book; empty where the record has none.
    pub fn title(&self) -> String {
        self.product.all("DescriptiveDetail").next().and_then(title).unwrap_or_default()
    }

    /// The ISBN of the book; empty where the record has none.
    pub fn isbn(&self) -> String {
        isbn(&self.product).unwrap_or_default()
    }

    /// Whether the record says that another one is to be deleted, and tells of no book. List 1: 05 is a deletion.
    pub fn is_deletion(&self) -> bool {
        self.product.value("NotificationType") == "05"
    }

    /// The draft of the record, and the values that it has for a brief.
    ///
    /// # Errors
    ///
    /// A record without a trim size or without copy, as a sentence without its stop.
    pub fn book(&self, base: &BaseBrief) -> Result<OnixBook, String> {
        let nothing = XmlElement::default();
        let details = self.product.all("DescriptiveDetail").next().unwrap_or(&nothing);
        let (trim, is_of_cover) = trim(details).ok_or(NO_TRIM)?;
        let language = language(details);
        let collateral = self.product.all("CollateralDetail").next().unwrap_or(&nothing);
        let draft = copy_texts::draft(collateral, language.as_deref(), base).ok_or(NO_COPY)?;
        let (kind, binding) = form(&details.value("ProductForm"), base);
        let named = [
            ("book", "title", title(details)),
            ("book", "isbn", isbn(&self.product)),
            ("book", "language", language),
            ("book", "readers", readers(details)),
            ("book", "kind", kind.map(str::to_owned)),
            ("panel", "trim", Some(trim)),
            ("panel", "binding", binding.map(str::to_owned)),
        ];
        let values = named.into_iter().filter_map(|(group, key, value)| Some((at(group, key), Node::Text(value?))));
        let binding = binding.map(str::to_owned).or_else(|| text_of(base, "panel", "binding"));
        let is_case = matches!(binding.as_deref(), Some("case" | "jacket"));
        let note = (is_case && is_of_cover).then(|| OF_CASE.to_owned());
        Ok(OnixBook { values: values.collect(), draft, note })
    }
}

fn at(group: &str, key: &str) -> Vec<YamlStep> {
    [group, key].map(|key| YamlStep::Key(key.to_owned())).to_vec()
}

fn text_of(base: &BaseBrief, group: &str, key: &str) -> Option<String> {
    match base.value(&at(group, key)) {
        Some(Node::Text(text)) => Some(text.trim().to_lowercase()),
        _ => None,
    }
}

/// The beginning of a value, where it is longer than any such value is.
fn clipped(value: &str) -> String {
    const LONGEST: usize = 100;
    value.chars().take(LONGEST).collect()
}

fn filled(value: String) -> Option<String> {
    (!value.is_empty()).then(|| clipped(&value))
}

/// The trim as width by height, and whether it is the whole cover's size. List 48: 04 and 05 are the height and the
/// width of the trimmed page, 01 and 02 those of the cover.
fn trim(details: &XmlElement) -> Option<(String, bool)> {
    let size = |code: &str| {
        let measure = details.all("Measure").find(|measure| measure.value("MeasureType") == code)?;
        filled(measure.value("Measurement")).map(|number| format!("{number} {}", measure.value("MeasureUnitCode")))
    };
    let of = |width: &str, height: &str| Some(format!("{} x {}", size(width)?, size(height)?));
    of("05", "04").map(|trim| (trim, false)).or_else(|| of("02", "01").map(|trim| (trim, true)))
}

/// List 22: 01 is the language of the text.
fn language(details: &XmlElement) -> Option<String> {
    let language = details.all("Language").find(|language| language.value("LanguageRole") == "01")?;
    filled(languages::tag(&language.value("LanguageCode").to_lowercase()).to_owned())
}

/// List 15: 01 is the title on the title page. List 149: 01 is the title of the product itself.
fn title(details: &XmlElement) -> Option<String> {
    let title = details.all("TitleDetail").find(|title| title.value("TitleType") == "01")?;
    let own = |element: &&XmlElement| matches!(element.value("TitleElementLevel").as_str(), "01" | "");
    let element = title.all("TitleElement").find(own)?;
    let whole = element.value("TitleText");
    let whole = if whole.is_empty() {
        format!("{} {}", element.value("TitlePrefix"), element.value("TitleWithoutPrefix"))
    } else {
        whole
    };
    let words: Vec<&str> = whole.split_whitespace().collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// List 5: 15 is an ISBN, and 03 the number of an article, which a book's ISBN is too.
fn isbn(product: &XmlElement) -> Option<String> {
    let of = |code: &str| {
        let found = product.all("ProductIdentifier").find(|identifier| identifier.value("ProductIDType") == code)?;
        filled(found.value("IDValue"))
    };
    of("15").or_else(|| of("03").filter(|number| number.starts_with("978") || number.starts_with("979")))
}

/// List 30: 17 is the age of interest in years, 18 the reading age in years and 16 the age of interest in months. List
/// 31: 01 is one age alone, 03 the youngest and 04 the oldest.
fn readers(details: &XmlElement) -> Option<String> {
    let of = |code: &str| {
        let is_meant = |range: &&XmlElement| range.value("AudienceRangeQualifier") == code;
        details.all("AudienceRange").find(is_meant).and_then(ages)
    };
    let written = |(from, to): (Option<String>, Option<String>)| match (from, to) {
        (Some(from), None) => format!("{from}+"),
        (from, to) => format!("{}-{}", from.unwrap_or_else(|| "0".to_owned()), to.unwrap_or_default()),
    };
    let in_years = |(from, to): (Option<String>, Option<String>)| (from.map(years), to.map(years));
    of("17").or_else(|| of("18")).or_else(|| of("16").map(in_years)).map(written)
}

/// The youngest and the oldest age of a range, as far as it has them.
fn ages(range: &XmlElement) -> Option<(Option<String>, Option<String>)> {
    let precisions = range.all("AudienceRangePrecision").map(|code| code.text().trim().to_owned());
    let values = range.all("AudienceRangeValue").map(|value| clipped(value.text().trim()));
    let (mut from, mut to) = (None, None);
    for (precision, value) in precisions.zip(values) {
        match precision.as_str() {
            "01" => (from, to) = (Some(value.clone()), Some(value)),
            "03" => from = Some(value),
            "04" => to = Some(value),
            _ => {}
        }
    }
    (from.is_some() || to.is_some()).then_some((from, to))
}

/// Whole years of an age in months; what is no number is left, so that it is told as it stands.
fn years(months: String) -> String {
    months.parse::<u32>().map_or(months, |months| (months / 12).to_string())
}

/// The kind and the binding. List 150: BC is a paperback, BB has boards and BH is a board book. Whether there is a
/// jacket round the boards is told by the base.
fn form(code: &str, base: &BaseBrief) -> (Option<&'static str>, Option<&'static str>) {
    match code {
        "BC" => (None, Some("paperback")),
        "BB" if text_of(base, "panel", "binding").as_deref() == Some("jacket") => (None, Some("jacket")),
        "BB" => (None, Some("case")),
        "BH" => (Some("board book"), Some("paperback")),
        _ => (None, None),
    }
}
