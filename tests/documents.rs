//! Documents of word processors as drafts: what is copy in them, what is left out, and files that are made to harm.

mod damage;
mod desk;
mod files;
mod handed;
mod harm;
mod open;
mod word;
