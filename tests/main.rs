//! All tests of the program from outside, in one binary: one is linked, and what they share is built once.

mod advances;
mod alphabets;
mod briefs;
mod casting_off;
mod desk;
mod desk_told;
mod desk_typing;
mod desk_ways;
mod differences;
mod editor;
mod fallback;
mod growth;
mod house;
mod ink;
mod laws;
mod nothing_lost;
mod precision;
mod prices;
mod proofs;
mod random;
mod readme;
mod scenarios;
mod start;
mod unicode_breaks;
mod weights;
mod worked_examples;
