//! What other programs do to a PDF, done by lopdf.

mod edit;

pub use edit::drop_layer;

use edit::{
    crop, each_dict, each_page, each_resource, hide_layer, in_form, in_layer, move_one_corner,
    page, set_content, strip_layers, wrapped,
};
use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use trimloft::check::verify::Outcome;

/// Points in a millimetre.
pub const POINTS: f64 = 72.0 / 25.4;

/// A change, and what the file comes to after it.
pub struct Mutation {
    pub name: String,
    /// The worst of its findings; none where it is refused.
    pub outcome: Option<Outcome>,
    pub bytes: Vec<u8>,
}

/// A file that changes are made to.
pub struct Original {
    bytes: Vec<u8>,
}

impl Original {
    pub fn new(bytes: Vec<u8>) -> Self {
        Self { bytes }
    }

    fn changed(
        &self,
        name: impl Into<String>,
        outcome: Outcome,
        change: impl FnOnce(&mut Document),
    ) -> Mutation {
        let mut file = Document::load_mem(&self.bytes).unwrap();
        change(&mut file);
        let mut bytes = vec![];
        file.save_to(&mut bytes).unwrap();
        Mutation {
            name: name.into(),
            outcome: Some(outcome),
            bytes,
        }
    }

    /// Every change that applies to this file.
    pub fn mutations(&self) -> Vec<Mutation> {
        let mut all = self.harmless();
        all.extend(self.scaled());
        all.extend(self.hidden_and_lost());
        all.extend(self.pages_changed());
        all
    }

    fn harmless(&self) -> Vec<Mutation> {
        let all =
            |name: &str, change: fn(&mut Document)| self.changed(name, Outcome::Sound, change);
        let told =
            |name: &str, change: fn(&mut Document)| self.changed(name, Outcome::Changed, change);
        let mut found = vec![
            all("saved again", |_| {}),
            all("compressed", |file| file.compress()),
            all("unpacked", |file| file.decompress()),
            all("renumbered", |file| file.renumber_objects_with(5000)),
            all("wrapped", |file| {
                each_page(file, |content| wrapped("", &content, ""))
            }),
            told("preferences lost", |file| {
                file.catalog_mut().unwrap().remove(b"ViewerPreferences");
            }),
            told("properties lost", |file| {
                file.trailer.remove(b"Info");
            }),
            told("renamed", |file| {
                let info = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
                let info = file.get_dictionary_mut(info).unwrap();
                info.set("Producer", Object::string_literal("Some other program 3.1"));
            }),
            told("layers stripped", strip_layers),
            told("layers stripped and wrapped", |file| {
                strip_layers(file);
                each_page(file, |content| wrapped("", &content, ""));
            }),
            all("white ground first", |file| {
                each_page(file, |content| {
                    wrapped("1 g 0 0 3000 3000 re f 0 g", &content, "")
                })
            }),
            all("moved by 1 mm", |file| {
                each_page(file, |content| {
                    wrapped("1 0 0 1 2.8346 -2.8346 cm", &content, "")
                })
            }),
            all("in a form", |file| {
                in_form(file, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], "")
            }),
            all("doubled in a form and halved", |file| {
                in_form(file, [2.0, 0.0, 0.0, 2.0, 0.0, 0.0], "0.5 0 0 0.5 0 0 cm")
            }),
            told("flattened into a form", |file| {
                strip_layers(file);
                in_form(file, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], "");
            }),
            all("contents in parts", |file| {
                for (_, id) in file.get_pages() {
                    let content = file.get_page_content(id);
                    let half = content.len() / 2;
                    let cut = half + content[half..].iter().position(|b| *b == b'\n').unwrap();
                    let parts = [&content[..cut], &content[cut..]].map(|part| {
                        Object::from(file.add_object(Stream::new(Dictionary::new(), part.to_vec())))
                    });
                    page(file, id).set("Contents", parts.to_vec());
                }
            }),
        ];
        for degrees in [90, 180, 270] {
            found.push(
                self.changed(format!("turned by {degrees}"), Outcome::Changed, |file| {
                    each_dict(file, |page| page.set("Rotate", degrees));
                }),
            );
        }
        found
    }

    fn scaled(&self) -> Vec<Mutation> {
        let mut found = vec![];
        let scales = [
            (0.9412, 0.9412),
            (0.9597, 0.9597),
            (0.97, 0.97),
            (0.9995, 0.9995),
            (1.0005, 1.0005),
            (1.0667, 1.0667),
            (1.0, 0.997),
            (0.996, 1.0),
        ];
        for (x, y) in scales {
            for stripped in [false, true] {
                found.push(self.changed(
                    format!("scaled by {x} x {y}, stripped {stripped}"),
                    Outcome::Fault,
                    |file| {
                        if stripped {
                            strip_layers(file);
                        }
                        each_page(file, |content| {
                            wrapped(&format!("{x} 0 0 {y} 20 20 cm"), &content, "")
                        });
                    },
                ));
            }
        }
        for unit in [0.97, 1.01, 2.0] {
            found.push(
                self.changed(format!("UserUnit {unit}"), Outcome::Fault, |file| {
                    each_dict(file, |page| page.set("UserUnit", unit as f32));
                }),
            );
        }
        for (name, matrix) in [
            ("skewed", "1 0 0.01 1 0 0 cm"),
            ("mirrored", "-1 0 0 1 595 0 cm"),
            ("scaled in a form", "0.98 0 0 0.98 5 5 cm"),
        ] {
            found.push(self.changed(name, Outcome::Fault, |file| {
                in_form(file, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], matrix);
            }));
        }
        found
    }

    fn hidden_and_lost(&self) -> Vec<Mutation> {
        let bad =
            |name: &str, change: fn(&mut Document)| self.changed(name, Outcome::Fault, change);
        let unseen = |name: &str, change: fn(&mut Document)| {
            self.changed(name, Outcome::CannotJudge, change)
        };
        let mut found = vec![
            bad("a small stamp", |file| {
                each_page(file, |content| wrapped("", &content, "0 g 3 3 8 8 re f"))
            }),
            bad("cropped by 40 mm", |file| {
                each_dict(file, |page| crop(page, "CropBox", 40.0))
            }),
            bad("cropped by 5 mm", |file| {
                each_dict(file, |page| crop(page, "CropBox", 5.0))
            }),
            bad("media cropped by 40 mm", |file| {
                each_dict(file, |page| {
                    crop(page, "CropBox", 40.0);
                    crop(page, "MediaBox", 40.0);
                })
            }),
            unseen("cut line dropped", |file| drop_layer(file, "cut")),
            unseen("rulers dropped", |file| drop_layer(file, "check-ruler")),
            bad("cut line hidden", |file| hide_layer(file, "cut")),
            unseen("rulers hidden", |file| hide_layer(file, "check-ruler")),
            bad("cut line white", |file| in_layer(file, "cut", "1 G")),
            bad("cut line shifted", |file| {
                in_layer(file, "cut", "1 0 0 1 0.1 0 cm")
            }),
            unseen("covered in white", |file| {
                each_page(file, |content| {
                    wrapped("", &content, "1 g 0 0 3000 3000 re f")
                })
            }),
            bad("clipped to half", |file| {
                each_page(file, |content| wrapped("0 0 300 300 re W n", &content, ""))
            }),
            bad("clipped to a triangle", |file| {
                each_page(file, |content| {
                    wrapped("0 0 m 900 0 l 0 1200 l h W n", &content, "")
                })
            }),
            unseen("a picture", |file| {
                let picture = Stream::new(
                    dictionary! {
                        "Type" => "XObject", "Subtype" => "Image", "Width" => 1, "Height" => 1,
                        "ColorSpace" => "DeviceGray", "BitsPerComponent" => 8,
                    },
                    vec![0x80],
                );
                let picture = file.add_object(picture);
                each_resource(file, |resources| {
                    resources.set("XObject", dictionary! { "Im" => picture });
                });
                each_page(file, |_| b"q 595 0 0 842 0 0 cm /Im Do Q".to_vec());
            }),
            unseen("nothing left", |file| each_page(file, |_| vec![])),
            bad("one corner moved", |file| {
                move_one_corner(file);
            }),
        ];
        let whole = self.bytes.len();
        for share in [3, 5, 8] {
            found.push(Mutation {
                name: format!("cut short to {share} tenths"),
                outcome: None,
                bytes: self.bytes[..whole * share / 10].to_vec(),
            });
        }
        found
    }

    fn pages_changed(&self) -> Vec<Mutation> {
        let count = Document::load_mem(&self.bytes).unwrap().get_pages().len() as u32;
        vec![
            self.changed("last page dropped", Outcome::Fault, |file| {
                file.delete_pages(&[count])
            }),
            self.changed("last page scaled", Outcome::Fault, |file| {
                let id = file.get_pages()[&count];
                let content = file.get_page_content(id);
                let content = wrapped("0.99 0 0 0.99 3 3 cm", &content, "");
                set_content(file, id, content);
            }),
            self.changed("last page of another size", Outcome::Fault, |file| {
                let id = file.get_pages()[&count];
                page(file, id).set("MediaBox", vec![0.into(), 0.into(), 612.into(), 792.into()]);
            }),
        ]
    }
}
