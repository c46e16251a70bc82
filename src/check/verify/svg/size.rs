//! How large a drawing is, and how its own units lie on paper.

use crate::check::verify::budget::FARTHEST;
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::MeasuredPage;
use kurbo::{Affine, Size};
use roxmltree::Node;
use std::str::FromStr;
use svgtypes::{Align, AspectRatio, Length, LengthUnit, ViewBox};

/// Millimetres in a pixel: 1 in is 96 px (CSS Values and Units, read second-hand).
const PIXEL: f64 = 25.4 / 96.0;

/// The empty page of a drawing, and the way from its units to millimetres, y up.
pub(super) fn page(root: Node<'_, '_>) -> Result<(MeasuredPage, Affine), VerifyError> {
    let mut page = MeasuredPage {
        user_unit: 1.0,
        ..MeasuredPage::default()
    };
    let view = match root.attribute("viewBox") {
        Some(text) => Some(
            ViewBox::from_str(text)
                .map_err(|_| VerifyError::Svg("its viewBox is no box".into()))?,
        ),
        None => None,
    };
    let side = |name: &str| root.attribute(name).and_then(length);
    let (width, height) = (side("width"), side("height"));
    let size = match (width, height, &view) {
        (Some(width), Some(height), _) => Size::new(width, height),
        (width, height, Some(view)) => {
            page.unread
                .insert("a size in lengths, which the drawing lacks: each program makes its own");
            Size::new(
                width.unwrap_or(view.w * PIXEL),
                height.unwrap_or(view.h * PIXEL),
            )
        }
        _ => return Err(VerifyError::Svg("it has neither size nor viewBox".into())),
    };
    let usable = |side: f64| side > 0.0 && side <= FARTHEST;
    if !(usable(size.width) && usable(size.height)) {
        return Err(VerifyError::Svg(
            "it has no size, or one larger than any paper".into(),
        ));
    }
    let flip = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, size.height]);
    page.size = size;
    page.shown = size.to_rect();
    let to_page = match view {
        None => flip * Affine::scale(PIXEL),
        Some(view) => {
            let (across, down) = (size.width / view.w, size.height / view.h);
            page.stretch = Some((across, down));
            flip * fitted(root, size, &view, (across, down))
        }
    };
    if root.has_attribute("transform") || root.has_attribute("transform-origin") {
        page.unread.insert("a turn or scale of the whole drawing");
    }
    Ok((page, to_page))
}

/// From the viewBox to the size (SVG 1.1, 7.8).
fn fitted(root: Node<'_, '_>, size: Size, view: &ViewBox, (across, down): (f64, f64)) -> Affine {
    let ratio = root
        .attribute("preserveAspectRatio")
        .and_then(|text| AspectRatio::from_str(text).ok());
    let align = ratio.map_or(Align::XMidYMid, |ratio| ratio.align);
    let origin = Affine::translate((-view.x, -view.y));
    if align == Align::None {
        return Affine::scale_non_uniform(across, down) * origin;
    }
    let scale = if ratio.is_some_and(|ratio| ratio.slice) {
        across.max(down)
    } else {
        across.min(down)
    };
    let free = (size.width - scale * view.w, size.height - scale * view.h);
    let share = match align {
        Align::XMinYMin | Align::None => (0.0, 0.0),
        Align::XMidYMin => (0.5, 0.0),
        Align::XMaxYMin => (1.0, 0.0),
        Align::XMinYMid => (0.0, 0.5),
        Align::XMidYMid => (0.5, 0.5),
        Align::XMaxYMid => (1.0, 0.5),
        Align::XMinYMax => (0.0, 1.0),
        Align::XMidYMax => (0.5, 1.0),
        Align::XMaxYMax => (1.0, 1.0),
    };
    Affine::translate((share.0 * free.0, share.1 * free.1)) * Affine::scale(scale) * origin
}

/// A length in millimetres; none for one that hangs on something else.
pub(super) fn length(text: &str) -> Option<f64> {
    let length = Length::from_str(text.trim()).ok()?;
    let unit = match length.unit {
        LengthUnit::None | LengthUnit::Px => PIXEL,
        LengthUnit::Mm => 1.0,
        LengthUnit::Cm => 10.0,
        LengthUnit::In => 25.4,
        LengthUnit::Pt => 25.4 / 72.0,
        LengthUnit::Pc => 25.4 / 6.0,
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => return None,
    };
    Some(length.number * unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;
    use roxmltree::Document;

    fn read(attributes: &str) -> (MeasuredPage, Affine) {
        let text = format!("<svg {attributes}/>");
        page(Document::parse(&text).unwrap().root_element()).unwrap()
    }

    #[test]
    fn units_are_those_of_the_standard() {
        // CSS Values and Units: 1in = 96px = 2.54cm = 72pt = 6pc.
        for (text, mm) in [
            ("96", 25.4),
            ("96px", 25.4),
            ("1in", 25.4),
            ("2.54cm", 25.4),
            ("72pt", 25.4),
            ("6pc", 25.4),
            ("100mm", 100.0),
        ] {
            assert!((length(text).unwrap() - mm).abs() < 1e-9, "{text}");
        }
        assert!(length("100%").is_none() && length("2em").is_none());
    }

    #[test]
    fn a_view_box_is_fitted_and_flipped() {
        let (_, to_page) = read("width='200mm' height='100mm' viewBox='0 0 200 100'");
        assert_eq!(to_page * Point::new(10.0, 20.0), Point::new(10.0, 80.0));
        // Uniform, in the middle, unless told otherwise.
        let (page, to_page) = read("width='220mm' height='100mm' viewBox='0 0 200 100'");
        assert_eq!(to_page * Point::new(0.0, 100.0), Point::new(10.0, 0.0));
        assert_eq!(page.stretch, Some((1.1, 1.0)));
        let none = "width='220mm' height='100mm' viewBox='0 0 200 100' preserveAspectRatio='none'";
        let (_, to_page) = read(none);
        assert!((to_page * Point::new(100.0, 0.0) - Point::new(110.0, 100.0)).hypot() < 1e-9);
        let (page, _) = read("viewBox='0 0 200 100'");
        assert_eq!(page.unread.len(), 1);
    }
}
