//! The handover box: what is measured, and what the customer is told.

use super::Ratings;
use super::block::{heading, table, words};
use crate::base::fixed;
use crate::base::length::Units;
use crate::draw::ink::{Block, Cell};
use crate::input::{KitSpec, POUND};

/// Decimals of a mass, kg and lb.
const MASS_DECIMALS: usize = 1;

/// The blocks of the box: what the kit file gives is filled in, the rest left blank.
pub(super) fn blocks(kit: &KitSpec) -> Vec<Block> {
    let handover = &kit.handover;
    let ratings = Ratings::of(handover);
    let measured = [
        ("Pin hole to bumper", handover.pin_hole_to_bumper),
        (
            "Ground to the inside top of the receiver",
            handover.ground_to_receiver,
        ),
    ];
    let measured = measured.map(|(what, value)| {
        let told = value.map(|value| distance(value, kit.units));
        vec![words(what), told.map_or(Cell::Blank, words)]
    });
    let (bracket, vehicle) = (handover.bracket, handover.vehicle);
    let limits = [
        ("Mass towed", bracket.towed, vehicle.towed, ratings.towed),
        (
            "Load on the tongue",
            bracket.tongue,
            vehicle.tongue,
            ratings.tongue,
        ),
    ];
    let limits = limits.map(|(what, bracket, vehicle, lower)| {
        let cells = [bracket, vehicle, lower].map(mass);
        std::iter::once(words(what)).chain(cells).collect()
    });
    let mut blocks = vec![
        heading("Handover to the customer"),
        table(&["Measured on the vehicle", ""], measured.to_vec()),
        table(
            &["Limits", "Bracket", "Vehicle", "The lower"],
            limits.to_vec(),
        ),
        Block::Paragraph(
            "A ball mount, a ball and a trailer have limits of their own: the lowest of vehicle, \
             bracket, ball mount, ball and trailer holds."
                .into(),
        ),
    ];
    if handover.carried.is_empty() {
        let carried = vec![words("Carried on the tongue"), Cell::Blank];
        let left = vec![words("Left for a trailer's tongue"), Cell::Blank];
        blocks.push(table(
            &["Counted in the load on the tongue", ""],
            vec![carried, left],
        ));
    } else {
        let mut rows: Vec<Vec<Cell>> = handover
            .carried
            .iter()
            .map(|one| vec![words(&one.name), mass(Some(one.mass.value))])
            .collect();
        rows.push(vec![words("Carried in all"), mass(Some(ratings.carried))]);
        rows.push(vec![
            words("Left for a trailer's tongue"),
            mass(ratings.left_for_trailer),
        ]);
        blocks.push(table(&["Counted in the load on the tongue", ""], rows));
    }
    blocks.push(table(
        &["Fitted by", "Date", "Handed to"],
        vec![vec![Cell::Blank, Cell::Blank, Cell::Blank]],
    ));
    blocks
}

fn mass(kilograms: Option<f64>) -> Cell {
    kilograms.map_or(Cell::Blank, |kilograms| {
        let pounds = kilograms / POUND;
        let [kilograms, pounds] = [kilograms, pounds].map(|mass| fixed(mass, MASS_DECIMALS));
        words(format!("{kilograms} kg ({pounds} lb)"))
    })
}

fn distance(mm: f64, units: Units) -> String {
    units.roughly(mm)
}
