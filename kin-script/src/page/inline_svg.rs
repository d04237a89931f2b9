//! Pictures inside a page.

/// A picture as it stands in a page: its names made its own, since names must differ within a page, and its size left to the page.
///
/// * `prefix`: put before every name
pub(super) fn inline(svg: &str, prefix: &str) -> String {
    let svg = svg.trim_start();
    let svg = match (svg.starts_with("<?xml"), svg.find("?>")) {
        (true, Some(end)) => svg.get(end + 2..).unwrap_or(svg).trim_start(),
        _ => svg,
    };
    let mut text = String::with_capacity(svg.len() + 64);
    let mut rest = svg;
    // Names are made (id), used in values (url, href), and listed for readers of screens (aria).
    const MARKS: [&str; 5] = [
        " id=\"",
        "url(#",
        "href=\"#",
        " aria-labelledby=\"",
        " aria-describedby=\"",
    ];
    while let Some((at, mark)) = MARKS
        .iter()
        .filter_map(|mark| Some((rest.find(mark)?, *mark)))
        .min_by_key(|(at, _)| *at)
    {
        let (before, after) = rest.split_at(at + mark.len());
        text.push_str(before);
        let end = after.find(['"', ')']).unwrap_or(0);
        let (names, after) = after.split_at(end);
        let own: Vec<String> = names.split(' ').map(|name| format!("{prefix}{name}")).collect();
        text.push_str(&own.join(" "));
        rest = after;
    }
    text.push_str(rest);
    text
}

/// The words of an element such as `title` at the head of a picture.
pub(super) fn words_of(svg: &str, element: &str) -> Option<String> {
    let (_, after) = svg.split_once(&format!("<{element}>"))?;
    let (words, _) = after.split_once(&format!("</{element}>"))?;
    let plain = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#39;", "'"),
        ("&apos;", "'"),
        ("&amp;", "&"),
    ];
    let words = plain
        .iter()
        .fold(words.trim().to_owned(), |words, (written, read)| {
            words.replace(written, read)
        });
    Some(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_become_the_pictures_own_and_stay_tied_together() {
        let svg = "<?xml version=\"1.0\"?>\n<svg aria-labelledby=\"t d\"><title id=\"t\">A &amp; B</title><desc id=\"d\">x</desc>\
            <path id=\"a\" fill=\"url(#hatch)\"/><use href=\"#a\"/></svg>";
        let own = inline(svg, "p1-");
        assert_eq!(
            own,
            "<svg aria-labelledby=\"p1-t p1-d\"><title id=\"p1-t\">A &amp; B</title><desc id=\"p1-d\">x</desc>\
            <path id=\"p1-a\" fill=\"url(#p1-hatch)\"/><use href=\"#p1-a\"/></svg>"
        );
    }

    #[test]
    fn titles_are_read_as_they_were_meant() {
        let svg = "<svg><title>A &amp; &lt;B&gt;</title></svg>";
        assert_eq!(words_of(svg, "title").as_deref(), Some("A & <B>"));
        assert_eq!(words_of(svg, "desc"), None);
    }
}
