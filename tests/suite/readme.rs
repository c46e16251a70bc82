//! Every command that the README shows does what it says.

use crate::common::root;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

/// Commands of the README's `console` blocks, one a line.
fn commands() -> Vec<String> {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let mut commands = vec![];
    let mut inside = false;
    for line in readme.lines() {
        match line {
            "```console" => inside = true,
            "```" => inside = false,
            command if inside => commands.push(command.to_owned()),
            _ => {}
        }
    }
    commands
}

/// Words of a command line, double quotes respected.
fn words(command: &str) -> Vec<String> {
    command
        .split('"')
        .enumerate()
        .flat_map(|(i, piece)| {
            if i % 2 == 1 {
                vec![piece.to_owned()]
            } else {
                piece.split_whitespace().map(str::to_owned).collect()
            }
        })
        .collect()
}

/// A server never ends by itself: its first line is a link, and something answers there.
fn assert_serves(command: &mut Command) {
    let out = command.stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = out.spawn().unwrap();
    let mut link = String::new();
    let told = BufReader::new(child.stdout.as_mut().unwrap()).read_line(&mut link);
    let address = link
        .strip_prefix("http://")
        .map(|rest| rest.split('/').next().unwrap());
    let answers = address.map(std::net::TcpStream::connect);
    child.kill().unwrap();
    child.wait().unwrap();
    told.unwrap();
    answers
        .unwrap_or_else(|| panic!("`{link}` is no link"))
        .unwrap();
}

fn copy_folder(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_folder(&path, &target);
        } else {
            std::fs::copy(&path, &target).unwrap();
        }
    }
}

#[test]
fn every_command_works() {
    let folder = tempfile::tempdir().unwrap();
    copy_folder(&root().join("shapes"), &folder.path().join("shapes"));
    let mut ran = 0;
    for command in commands() {
        let arguments = match command.strip_prefix("trimloft ") {
            Some(rest) => rest.to_owned(),
            None => match command.strip_prefix("cargo run --release -- ") {
                Some(rest) => rest.to_owned(),
                // This test is part of it.
                None if command == "cargo test" => continue,
                None => panic!("`{command}` is not run by this test"),
            },
        };
        let mut run = Command::new(env!("CARGO_BIN_EXE_trimloft"));
        run.args(words(&arguments)).current_dir(folder.path());
        if arguments.starts_with("serve") {
            assert_serves(run.args(["--port", "0"]));
            ran += 1;
            continue;
        }
        let output = run.output().unwrap();
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success(), "`{command}`: {told}");
        assert!(!output.stdout.is_empty(), "`{command}` told nothing");
        ran += 1;
    }
    assert!(ran >= 8, "the README shows {ran} commands");
    assert!(folder.path().join("out/LV2-UP-01-B.pdf").exists());
    assert!(folder.path().join("out/notch.svg").exists());
    assert!(folder.path().join("out/LV2-KIT-01-A/index.html").exists());
}

#[test]
fn the_definition_it_shows_is_a_whole_one() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let toml = readme
        .split("```toml\n")
        .nth(1)
        .unwrap()
        .split("```")
        .next()
        .unwrap();
    let pattern = crate::common::solved(toml);
    assert_eq!(pattern.openings.len(), 1);
}

#[test]
fn every_picture_it_shows_is_there() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let pictures: Vec<&str> = readme
        .split("](")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .filter(|link| link.ends_with(".svg") || link.ends_with(".png"))
        .collect();
    assert!(pictures.len() >= 4);
    for picture in pictures {
        assert!(root().join(picture).exists(), "{picture}");
    }
}
