//! Programs for a router in RS274/NGC (NIST IR 6556; ISO 6983-1), each proved by simulated removal before it is written.
//!
//! | module | does |
//! |---|---|
//! | `options` | what the user can choose |
//! | `jobs` | the work of a face as jobs, each with its tool |
//! | `face_jobs` | the jobs of a face, and on which layers of a drawing they are |
//! | `order` | the order of the jobs |
//! | `loops` | what tools follow: parallels, clearings, detours into corners |
//! | `toolpath` | jobs as steps of the tool |
//! | `route` | the steps, and how long they take |
//! | `cost` | length and time of jobs |
//! | `tool_words` | a tool in words |
//! | `write` | steps as text |
//! | `target` | what is to be left, for the simulation |
//! | `part_on_face` | a part, and where it lies |
//! | `face_work` | one face of a part or sheet: its jobs, its target, and the machine that works it |
//! | `prove` | programs from the disk, held against the machine and the plan |
//! | `operation` | the jobs as numbered operations |
//! | `job_picture`, `job_sheet` | the page that stands beside the machine |
//! | `exporter` | files from all of that |

mod cost;
mod exporter;
mod face_jobs;
mod face_work;
mod job_picture;
mod job_sheet;
mod jobs;
mod loops;
mod operation;
mod options;
mod order;
mod part_on_face;
mod prove;
mod route;
mod target;
#[cfg(test)]
mod tests;
mod tool_words;
mod toolpath;
mod vet;
mod write;

pub(super) use face_jobs::{LayerOperation, OnFace, operations_by_layer};
pub(super) use part_on_face::PartOnFace;

pub use exporter::NgcRouter;
pub use options::NgcRouterOptions;
pub use prove::{Proof, png_of, prove_for_plan, prove_on_sheet};
