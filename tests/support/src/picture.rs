//! What is looked at in an SVG: that it is well formed, and that its words lie inside of it and not on each other.

use std::collections::HashMap;

/// An element's name and attributes, and the words in it.
#[derive(Debug, Default)]
pub struct Element {
    pub name: String,
    pub attributes: HashMap<String, String>,
    pub words: String,
}

impl Element {
    pub fn number(&self, attribute: &str) -> f64 {
        let value = self.attributes.get(attribute).unwrap_or_else(|| panic!("no {attribute}: {self:?}"));
        value.parse().unwrap_or_else(|_| panic!("{attribute} is {value:?}"))
    }
}

/// All elements, or what is not well formed: tags that do not close, attributes without quotes or given twice, loose signs.
pub fn elements(svg: &str) -> Result<Vec<Element>, String> {
    let mut elements: Vec<Element> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    let mut rest = svg.trim();
    while !rest.is_empty() {
        let start = rest.find('<').ok_or("words behind the last tag")?;
        let words = &rest[..start];
        let mut entities = words.split('&');
        entities.next();
        if words.contains('>')
            || entities.any(|it| it.split_once(';').is_none_or(|(name, _)| name.len() >= 6))
        {
            return Err(format!("a loose sign in {words:?}"));
        }
        match open.last() {
            Some(&inside) => elements[inside].words += words.trim(),
            None if !words.trim().is_empty() || !elements.is_empty() => {
                return Err("more than one root".to_string());
            }
            None => {}
        }
        let end = start + rest[start..].find('>').ok_or("a tag without end")?;
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            let closed = open.pop().ok_or_else(|| format!("</{name}> closes nothing"))?;
            if elements[closed].name != name {
                return Err(format!("</{name}> closes {}", elements[closed].name));
            }
            // Only its end may follow the root.
            if open.is_empty() && !rest.trim().is_empty() {
                return Err("more behind the root".to_string());
            }
            continue;
        }
        let is_closed = tag.ends_with('/');
        elements.push(element(tag.trim_end_matches('/'))?);
        if !is_closed {
            open.push(elements.len() - 1);
        }
    }
    if open.is_empty() { Ok(elements) } else { Err("a tag that is not closed".to_string()) }
}

fn element(tag: &str) -> Result<Element, String> {
    let (name, mut rest) = tag.split_once(char::is_whitespace).unwrap_or((tag, ""));
    let mut attributes = HashMap::new();
    while !rest.trim().is_empty() {
        let (key, value) = rest.trim_start().split_once("=\"").ok_or_else(|| format!("no quotes: {rest}"))?;
        let (value, after) = value.split_once('"').ok_or_else(|| format!("no end: {rest}"))?;
        if attributes.insert(key.to_owned(), value.to_owned()).is_some() {
            return Err(format!("{key} twice in {tag}"));
        }
        rest = after;
    }
    Ok(Element { name: name.to_owned(), attributes, words: String::new() })
}

/// Left, top, right, bottom of words: a little more than they take in the usual typefaces without serifs.
fn place(text: &Element) -> [f64; 4] {
    let size = text.number("font-size");
    let words =
        text.words.replace("&apos;", "'").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    let width = 0.56 * size * words.chars().count() as f64;
    let (x, y) = (text.number("x"), text.number("y"));
    let shift = text.attributes.get("dy").map_or("0em", String::as_str);
    let shift = match shift.strip_suffix("em") {
        Some(number) => number.parse::<f64>().unwrap() * size,
        None => shift.strip_suffix("ex").unwrap().parse::<f64>().unwrap() * 0.5 * size,
    };
    let left = match text.attributes["text-anchor"].as_str() {
        "start" => x,
        "middle" => x - 0.5 * width,
        _ => x - width,
    };
    let (top, bottom) = (y + shift - 0.74 * size, y + shift + 0.2 * size);
    if text.attributes.contains_key("transform") {
        // Turned to read upwards about its anchor.
        let (from, to) = (y - (left + width - x), y - (left - x));
        return [x + (top - y), from, x + (bottom - y), to];
    }
    [left, top, left + width, bottom]
}

/// Words that lie on each other or run out of the picture.
pub fn clashes(elements: &[Element]) -> Vec<String> {
    let page: Vec<f64> =
        elements[0].attributes["viewBox"].split(' ').map(|number| number.parse().unwrap()).collect();
    let texts: Vec<_> =
        elements.iter().filter(|it| it.name == "text").map(|it| (&it.words, place(it))).collect();
    let mut clashes = Vec::new();
    for (index, (words, [left, top, right, bottom])) in texts.iter().enumerate() {
        if *left < page[0] || *top < page[1] || *right > page[2] || *bottom > page[3] {
            clashes.push(format!("{words:?} runs out of the picture"));
        }
        for (others, [from, above, to, below]) in &texts[index + 1..] {
            if left < to && from < right && top < below && above < bottom {
                clashes.push(format!("{words:?} and {others:?} lie on each other"));
            }
        }
    }
    clashes
}
