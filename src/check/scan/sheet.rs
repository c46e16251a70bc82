//! The sheet's scale from the rulers found in both directions of the raster.

use super::error::ScanError;
use super::raster::Raster;
use super::spot::Spot;
use super::tone::Tones;
use super::view::View;
use super::{Scanner, corner};
use crate::check::scale::{Evidence, Gauge, Measured, Read, Scales, Way};
use kurbo::{Point, Size, Vec2};

/// Least standard uncertainty of a scale, as a share: what pixels and resampling leave.
const FLOOR: f64 = 5e-5;

/// Places along an edge of the frame that are looked at, and the share of them that must be inked:
/// a worn line has gaps, and another line that crosses has little more than a gap.
const FRAME_PLACES: u32 = 200;
const FRAME_SEEN: f64 = 0.7;
/// How far to either side the line is looked for, mm, and in how many steps: rulers of 100 mm leave
/// half a millimetre at the far side of a large sheet.
const FRAME_REACH: f64 = 0.6;
const FRAME_STEPS: i32 = 8;
/// Darkness from which a place counts as inked: a thin line at 100 dpi fills a third of a pixel.
const FRAME_INK: f64 = 0.25;

/// Which of the two rulers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RulerKind {
    /// 100 mm.
    Metric,
    /// 4 in.
    Inches,
}

/// One ruler as the scan has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RulerReading {
    /// Direction on the sheet.
    pub way: Way,
    /// Which ruler.
    pub kind: RulerKind,
    /// What it measures, mm.
    pub reads: f64,
    /// What it measures less what the direction's scale makes of it, mm.
    pub residual: f64,
    /// Graduations found, of 101 or 65.
    pub graduations: usize,
    /// Root mean square of the graduations' distances from even ones, mm.
    pub roughness: f64,
}

/// A sheet as the scan has it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetScale {
    /// Scale across.
    pub across: Measured,
    /// Scale down.
    pub down: Measured,
    /// Skew angle, degrees: positive where the head of the sheet stands too far to the right.
    pub skew: Measured,
    /// How the sheet lies in the picture, degrees counter-clockwise, -180 to 180.
    pub turn: f64,
    /// Every ruler found.
    pub rulers: Vec<RulerReading>,
    /// Whether the scanner's own scale was given.
    pub scanner_known: bool,
    /// Lower left of the frame of the work, pixels of the raster, y up.
    corner: Point,
    /// One millimetre of the drawing to the right of the sheet and towards its head, in pixels.
    right: Vec2,
    up: Vec2,
}

impl SheetScale {
    /// The scales, to judge a cut by.
    pub fn scales(&self) -> Scales {
        Scales {
            across: Some(self.across),
            down: Some(self.down),
            skew: Some(self.skew),
        }
    }

    /// All of it as evidence of the print.
    pub fn evidence(&self) -> Evidence {
        Evidence {
            scales: self.scales(),
            widest: self.scales(),
            reads: self.reads(),
        }
    }

    /// What each ruler reads, known as well as its direction.
    pub fn reads(&self) -> Vec<Read> {
        let read = |ruler: &RulerReading| Read {
            way: ruler.way,
            gauge: match ruler.kind {
                RulerKind::Metric => Gauge::Metric,
                RulerKind::Inches => Gauge::Inches,
            },
            mm: ruler.reads,
            uncertainty: match ruler.way {
                Way::Across => self.across.uncertainty,
                Way::Down => self.down.uncertainty,
            },
        };
        self.rulers.iter().map(read).collect()
    }

    /// Whether the frame of the sheet's work has this size as drawn, mm: whether its right and its
    /// head are where such a frame has them.
    pub fn has_frame(&self, raster: &Raster, size: Size) -> bool {
        let Some(tones) = Tones::of(raster) else {
            return false;
        };
        let view = View::new(raster, &tones, false);
        let (right, up) = (self.right, self.up);
        let edges = [
            (size.width * right, size.height * up, right),
            (size.height * up, size.width * right, up),
        ];
        edges.iter().all(|(from, along, beside)| {
            let inked = |at: &u32| {
                let share = (f64::from(*at) + 0.5) / f64::from(FRAME_PLACES);
                let place = self.corner + *from + share * *along;
                (-FRAME_STEPS..=FRAME_STEPS).any(|step| {
                    let by = FRAME_REACH * f64::from(step) / f64::from(FRAME_STEPS);
                    let point = place + by * *beside;
                    view.between(point.x, -point.y) >= FRAME_INK
                })
            };
            let seen = (0..FRAME_PLACES).filter(inked).count();
            seen as f64 >= FRAME_SEEN * f64::from(FRAME_PLACES)
        })
    }

    /// What the scan can't tell, in plain words; empty where it tells everything.
    pub fn cannot_tell(&self) -> Vec<String> {
        let mut words = Vec::new();
        if !self.scanner_known {
            words.push(
                "the scanner's own scale, which is in these figures; hint: scan a steel rule \
                 along both sides of the glass, and give what it measures over what it is"
                    .into(),
            );
        }
        words
    }
}

/// Rulers of one direction of the raster.
struct Direction {
    spots: Vec<Spot>,
    /// One millimetre of the drawing, mm of the scan.
    millimetre: Vec2,
    scale: Measured,
    turn_error: f64,
}

impl Direction {
    fn of(spots: &[Spot], scanner: &Scanner) -> Option<Self> {
        let weight = |spot: &Spot| spot.error.hypot(FLOOR).powi(-2);
        let total: f64 = spots.iter().map(weight).sum();
        let mut sum = Vec2::ZERO;
        for spot in spots {
            sum += weight(spot) * true_length(spot.millimetre(), scanner);
        }
        let millimetre = sum / total;
        let value = millimetre.hypot();
        if spots.is_empty() || value <= 0.0 || !value.is_finite() {
            return None;
        }
        let spread = spots
            .iter()
            .map(|spot| (true_length(spot.millimetre(), scanner).hypot() - value).abs())
            .fold(0.0, f64::max);
        Some(Self {
            spots: spots.to_vec(),
            millimetre,
            scale: Measured {
                value,
                uncertainty: 2.0 * (value / total.sqrt()).max(spread),
            },
            turn_error: spots.iter().map(|spot| spot.turn_error).fold(0.0, f64::max),
        })
    }

    fn readings(&self, way: Way, scanner: &Scanner) -> Vec<RulerReading> {
        self.spots
            .iter()
            .map(|spot| {
                let nominal = f64::from(spot.intervals) * spot.pitch();
                let scale = true_length(spot.millimetre(), scanner).hypot();
                RulerReading {
                    way,
                    kind: if spot.intervals == 100 {
                        RulerKind::Metric
                    } else {
                        RulerKind::Inches
                    },
                    reads: nominal * scale,
                    residual: nominal * (scale - self.scale.value),
                    graduations: spot.count,
                    roughness: spot.rms * spot.pitch() * scale,
                }
            })
            .collect()
    }
}

/// Pixels as millimetres, the scanner's own scale taken out.
fn true_length(pixels: Vec2, scanner: &Scanner) -> Vec2 {
    let (x, y) = scanner.own_scale.unwrap_or((1.0, 1.0));
    25.4 / scanner.dpi * Vec2::new(pixels.x / x, pixels.y / y)
}

/// The sheet, from the rulers along the raster's width and those along its height.
pub(crate) fn assemble(
    [along_width, along_height]: [Vec<Spot>; 2],
    scanner: &Scanner,
) -> Result<SheetScale, ScanError> {
    for spots in [&along_width, &along_height] {
        for intervals in [100, 64] {
            let alike = spots.iter().filter(|spot| spot.intervals == intervals);
            if alike.count() > 1 {
                return Err(ScanError::SeveralSheets);
            }
        }
    }
    let first = Direction::of(&along_width, scanner);
    let second = Direction::of(&along_height, scanner);
    let (first, second) = match (first, second) {
        (Some(first), Some(second)) => (first, second),
        (None, None) => return Err(ScanError::NoRulers),
        (Some(only), None) => {
            return Err(ScanError::OneDirection {
                reads: 100.0 * only.scale.value,
                along_height: false,
            });
        }
        (None, Some(only)) => {
            return Err(ScanError::OneDirection {
                reads: 100.0 * only.scale.value,
                along_height: true,
            });
        }
    };
    let [first_pair, second_pair] = corner::pairs(&along_width, &along_height)?;
    // Down the sheet is a left turn from across it.
    let (across, down, place) = if first.millimetre.cross(second.millimetre) > 0.0 {
        (first, second, corner::Corner::of(first_pair, second_pair))
    } else {
        (second, first, corner::Corner::of(second_pair, first_pair))
    };
    let (a, d) = (across.millimetre, down.millimetre);
    let corner = libm::atan2(a.cross(d), a.dot(d));
    let mut rulers = across.readings(Way::Across, scanner);
    rulers.extend(down.readings(Way::Down, scanner));
    Ok(SheetScale {
        across: across.scale,
        down: down.scale,
        skew: Measured {
            value: 90.0 - corner.to_degrees(),
            uncertainty: (2.0 * across.turn_error.hypot(down.turn_error).max(FLOOR)).to_degrees(),
        },
        turn: libm::atan2(a.y, a.x).to_degrees(),
        rulers,
        scanner_known: scanner.own_scale.is_some(),
        corner: place.frame,
        right: place.right,
        up: place.up,
    })
}
