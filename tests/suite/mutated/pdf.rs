//! What other programs do to a PDF, done by lopdf.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

/// Points in a millimetre.
pub const POINTS: f64 = 72.0 / 25.4;

/// A change, and whether the file is still full size and whole.
pub struct Mutation {
    pub name: String,
    pub sound: bool,
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
        sound: bool,
        change: impl FnOnce(&mut Document),
    ) -> Mutation {
        let mut file = Document::load_mem(&self.bytes).unwrap();
        change(&mut file);
        let mut bytes = vec![];
        file.save_to(&mut bytes).unwrap();
        Mutation {
            name: name.into(),
            sound,
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
        let all = |name: &str, change: fn(&mut Document)| self.changed(name, true, change);
        let mut found = vec![
            all("saved again", |_| {}),
            all("compressed", |file| file.compress()),
            all("unpacked", |file| file.decompress()),
            all("renumbered", |file| file.renumber_objects_with(5000)),
            all("wrapped", |file| {
                each_page(file, |content| wrapped("", &content, ""))
            }),
            all("preferences lost", |file| {
                file.catalog_mut().unwrap().remove(b"ViewerPreferences");
            }),
            all("properties lost", |file| {
                file.trailer.remove(b"Info");
            }),
            all("renamed", |file| {
                let info = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
                let info = file.get_dictionary_mut(info).unwrap();
                info.set("Producer", Object::string_literal("Some other program 3.1"));
            }),
            all("layers stripped", strip_layers),
            all("layers stripped and wrapped", |file| {
                strip_layers(file);
                each_page(file, |content| wrapped("", &content, ""));
            }),
            all("white ground first", |file| {
                each_page(file, |content| {
                    wrapped("1 g 0 0 3000 3000 re f 0 g", &content, "")
                })
            }),
            all("a small stamp", |file| {
                each_page(file, |content| wrapped("", &content, "0 g 3 3 8 8 re f"))
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
            all("flattened into a form", |file| {
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
            found.push(self.changed(format!("turned by {degrees}"), true, |file| {
                each_dict(file, |page| page.set("Rotate", degrees));
            }));
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
                    false,
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
            found.push(self.changed(format!("UserUnit {unit}"), false, |file| {
                each_dict(file, |page| page.set("UserUnit", unit as f32));
            }));
        }
        for (name, matrix) in [
            ("skewed", "1 0 0.01 1 0 0 cm"),
            ("mirrored", "-1 0 0 1 595 0 cm"),
            ("scaled in a form", "0.98 0 0 0.98 5 5 cm"),
        ] {
            found.push(self.changed(name, false, |file| {
                in_form(file, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], matrix);
            }));
        }
        found
    }

    fn hidden_and_lost(&self) -> Vec<Mutation> {
        let bad = |name: &str, change: fn(&mut Document)| self.changed(name, false, change);
        let mut found = vec![
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
            bad("cut line dropped", |file| drop_layer(file, "cut")),
            bad("rulers dropped", |file| drop_layer(file, "check-ruler")),
            bad("cut line hidden", |file| hide_layer(file, "cut")),
            bad("rulers hidden", |file| hide_layer(file, "check-ruler")),
            bad("cut line white", |file| in_layer(file, "cut", "1 G")),
            bad("cut line shifted", |file| {
                in_layer(file, "cut", "1 0 0 1 0.1 0 cm")
            }),
            bad("covered in white", |file| {
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
            bad("a picture", |file| {
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
            bad("nothing left", |file| each_page(file, |_| vec![])),
            bad("one corner moved", |file| {
                move_one_corner(file);
            }),
        ];
        let whole = self.bytes.len();
        for share in [3, 5, 8] {
            found.push(Mutation {
                name: format!("cut short to {share} tenths"),
                sound: false,
                bytes: self.bytes[..whole * share / 10].to_vec(),
            });
        }
        found
    }

    fn pages_changed(&self) -> Vec<Mutation> {
        let count = Document::load_mem(&self.bytes).unwrap().get_pages().len() as u32;
        let mut found = vec![
            self.changed("last page dropped", false, |file| {
                file.delete_pages(&[count])
            }),
            self.changed("last page scaled", false, |file| {
                let id = file.get_pages()[&count];
                let content = file.get_page_content(id);
                let content = wrapped("0.99 0 0 0.99 3 3 cm", &content, "");
                set_content(file, id, content);
            }),
            self.changed("last page of another size", false, |file| {
                let id = file.get_pages()[&count];
                page(file, id).set("MediaBox", vec![0.into(), 0.into(), 612.into(), 792.into()]);
            }),
        ];
        found.retain(|mutation| mutation.sound || !mutation.bytes.is_empty());
        found
    }
}

fn page(file: &mut Document, id: ObjectId) -> &mut Dictionary {
    file.get_dictionary_mut(id).unwrap()
}

fn each_dict(file: &mut Document, change: impl Fn(&mut Dictionary)) {
    for (_, id) in file.get_pages() {
        change(page(file, id));
    }
}

fn each_resource(file: &mut Document, change: impl Fn(&mut Dictionary)) {
    for (_, id) in file.get_pages() {
        let resources = page(file, id).get_mut(b"Resources").unwrap();
        match resources {
            Object::Reference(at) => {
                let at = *at;
                change(file.get_dictionary_mut(at).unwrap());
            }
            own => change(own.as_dict_mut().unwrap()),
        }
    }
}

fn set_content(file: &mut Document, id: ObjectId, content: Vec<u8>) {
    let stream = file.add_object(Stream::new(Dictionary::new(), content));
    page(file, id).set("Contents", stream);
}

fn each_page(file: &mut Document, change: impl Fn(Vec<u8>) -> Vec<u8>) {
    for (_, id) in file.get_pages() {
        let content = change(file.get_page_content(id));
        set_content(file, id, content);
    }
}

fn wrapped(before: &str, content: &[u8], after: &str) -> Vec<u8> {
    let mut all = format!("q\n{before}\n").into_bytes();
    all.extend_from_slice(content);
    all.extend_from_slice(format!("\nQ\nq {after} Q\n").as_bytes());
    all
}

fn strip_layers(file: &mut Document) {
    file.catalog_mut().unwrap().remove(b"OCProperties");
    each_page(file, |content| {
        let text = String::from_utf8(content).unwrap();
        let kept = text
            .lines()
            .filter(|line| !line.ends_with("BDC") && *line != "EMC");
        kept.flat_map(|line| [line.as_bytes(), b"\n"].concat())
            .collect()
    });
}

/// Every page's content moved into a form of this matrix, shown after `before`.
fn in_form(file: &mut Document, matrix: [f32; 6], before: &str) {
    for (_, id) in file.get_pages() {
        let mut content = file.get_page_content(id);
        if matrix[0] == 2.0 {
            // What the matrix doubles is halved inside.
            content = wrapped("1 0 0 1 0 0 cm", &content, "");
        }
        let resources = page(file, id).get(b"Resources").unwrap().clone();
        let matrix: Vec<Object> = matrix.iter().map(|part| (*part).into()).collect();
        let form = Stream::new(
            dictionary! {
                "Type" => "XObject", "Subtype" => "Form", "Matrix" => matrix,
                "BBox" => vec![0.into(), 0.into(), 14000.into(), 14000.into()],
                "Resources" => resources,
            },
            content,
        );
        let form = file.add_object(form);
        page(file, id).set(
            "Resources",
            dictionary! { "XObject" => dictionary! { "Fm" => form } },
        );
        set_content(file, id, format!("q {before} /Fm Do Q").into_bytes());
    }
}

fn crop(page: &mut Dictionary, name: &str, by: f64) {
    let sides = page.get(b"MediaBox").unwrap().as_array().unwrap().clone();
    let by = (by * POINTS) as f32;
    let side = |index: usize| sides[index].as_float().unwrap();
    let cropped = vec![
        (side(0) + by).into(),
        (side(1) + by).into(),
        (side(2) - by).into(),
        (side(3) - by).into(),
    ];
    page.set(name, cropped);
}

/// The resource name of a layer on a page.
fn tag(file: &Document, id: ObjectId, layer: &str) -> Option<String> {
    let page = file.get_dictionary(id).unwrap();
    let follow = |object: &Object| -> Dictionary {
        match object {
            Object::Reference(at) => file.get_dictionary(*at).unwrap().clone(),
            own => own.as_dict().unwrap().clone(),
        }
    };
    let resources = follow(page.get(b"Resources").unwrap());
    let properties = follow(resources.get(b"Properties").unwrap());
    properties.iter().find_map(|(name, group)| {
        let group = follow(group);
        let own = group.get(b"Name").unwrap().as_str().unwrap();
        let own: Vec<u8> = own
            .iter()
            .copied()
            .filter(|byte| byte.is_ascii_graphic())
            .collect();
        (own == layer.as_bytes()).then(|| String::from_utf8(name.clone()).unwrap())
    })
}

pub fn drop_layer(file: &mut Document, layer: &str) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, layer) else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let (mut kept, mut inside) = (String::new(), false);
        for line in text.lines() {
            inside |= line == begin;
            if !inside || line == "Q" || line == "q" {
                kept += line;
                kept.push('\n');
            }
            inside &= line != "EMC";
        }
        set_content(file, id, kept.into_bytes());
    }
}

/// Puts operators at the beginning of a layer, in effect inside it only.
fn in_layer(file: &mut Document, layer: &str, operators: &str) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, layer) else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let mut changed = String::new();
        let mut inside = false;
        for line in text.lines() {
            if inside && line == "EMC" {
                changed += "Q\n";
                inside = false;
            }
            changed += line;
            changed.push('\n');
            if line == begin {
                changed += &format!("q {operators}\n");
                inside = true;
            }
        }
        set_content(file, id, changed.into_bytes());
    }
}

fn hide_layer(file: &mut Document, layer: &str) {
    let mut groups = vec![];
    for (id, object) in &file.objects {
        let Ok(group) = object.as_dict() else {
            continue;
        };
        let is_group = group
            .get(b"Type")
            .and_then(Object::as_name)
            .is_ok_and(|kind| kind == b"OCG");
        let named = group
            .get(b"Name")
            .and_then(Object::as_str)
            .is_ok_and(|name| {
                let plain: Vec<u8> = name.iter().copied().filter(u8::is_ascii_graphic).collect();
                plain == layer.as_bytes()
            });
        if is_group && named {
            groups.push(Object::from(*id));
        }
    }
    assert_eq!(groups.len(), 1, "{layer}");
    let content = file
        .catalog_mut()
        .unwrap()
        .get_mut(b"OCProperties")
        .unwrap();
    let setting = content.as_dict_mut().unwrap().get_mut(b"D").unwrap();
    setting.as_dict_mut().unwrap().set("OFF", groups);
}

/// Moves the end of the first straight side of the first cut line by 0.1 mm.
fn move_one_corner(file: &mut Document) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, "cut") else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let (mut inside, mut done) = (false, false);
        let mut changed = String::new();
        for line in text.lines() {
            inside |= line == begin;
            if inside && !done && line.ends_with(" l") {
                let mut parts: Vec<&str> = line.split(' ').collect();
                let x = format!("{:.4}", parts[0].parse::<f64>().unwrap() + 0.1 * POINTS);
                let y = format!("{:.4}", parts[1].parse::<f64>().unwrap() + 0.1 * POINTS);
                (parts[0], parts[1]) = (&x, &y);
                changed += &parts.join(" ");
                done = true;
            } else {
                changed += line;
            }
            changed.push('\n');
        }
        set_content(file, id, changed.into_bytes());
        if done {
            return;
        }
    }
    panic!("no side to move");
}
