//! Programs for a router in RS274/NGC (NIST IR 6556; ISO 6983-1), each proved by simulated removal before it is written.
//!
//! | module | does |
//! |---|---|
//! | `options` | what the user can choose |
//! | `jobs` | the work of a face as jobs, each with its tool |
//! | `order` | the order of the jobs |
//! | `loops` | what tools follow: parallels, clearings, detours into corners |
//! | `toolpath` | jobs as steps of the tool |
//! | `route` | the steps, and how long they take |
//! | `write` | steps as text |
//! | `target` | what is to be left, for the simulation |
//! | `part_on_face` | a part, and where it lies |
//! | `face_work` | one face of a part or sheet: its jobs, its target, and the machine that works it |
//! | `prove` | programs from the disk, held against the machine and the plan |
//! | `exporter` | files from all of that |

mod exporter;
mod face_work;
mod jobs;
mod loops;
mod options;
mod order;
mod part_on_face;
mod prove;
mod route;
mod target;
mod toolpath;
mod vet;
mod write;

pub use exporter::NgcRouter;
pub use options::NgcRouterOptions;
pub use prove::{Proof, prove_for_plan, prove_on_sheet};
