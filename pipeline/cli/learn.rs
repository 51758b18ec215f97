//! `explain`, `manual` and `completions`: what can be learnt from the program itself.

use super::args::{Args, Manual};
use super::outcome::{CLEAN, complain, print, say};
use super::report;
use crate::manual::{explain, html, schema};
use crate::{driver, store};
use base::files::slashed;
use base::model::Fault;
use clap::{Command, CommandFactory};
use clap_complete::env::{CompleteEnv, Shells};
use clap_mangen::Man;
use judge::validate;
use std::io;

/// The variable by which a shell asks for completions.
const ASKED: &str = "COMPLETE";

/// Answers a shell that asks what may stand next, and ends the program then.
pub fn answer() {
    CompleteEnv::with_factory(Args::command).var(ASKED).complete();
}

/// What a name is; without one, all checks.
pub fn explain(name: Option<&str>) -> u8 {
    let Some(name) = name else {
        for check in validate::CATALOGUE {
            print(&format!("{:<36} {:?}, {:?}\n", check.name, check.severity, check.family).to_lowercase());
        }
        return CLEAN;
    };
    match explain::explain(name, report::explain) {
        Ok(text) => {
            print(&text);
            CLEAN
        }
        Err(help) => complain(&[Fault::new(format!("there is nothing called `{name}`")).help(help)]),
    }
}

/// Writes the manual in the forms that are asked for.
pub fn manual(args: &Manual) -> u8 {
    let mut faults = Vec::new();
    let mut write = |file: Option<&std::path::Path>, text: Result<String, Vec<Fault>>| {
        let Some(file) = file else { return };
        match text.and_then(|text| store::replace_file(file, &text).map_err(|fault| vec![fault])) {
            Ok(()) => say!("Wrote {}.", slashed(file)),
            Err(more) => faults.extend(more),
        }
    };
    if args.html.is_some() {
        let commands: Vec<(String, String)> = Args::command()
            .get_subcommands()
            .map(|c| (c.get_name().to_owned(), c.get_about().map(ToString::to_string).unwrap_or_default()))
            .collect();
        let drawn = driver::manual_pictures().map_err(|stop| stop.faults().to_vec());
        write(args.html.as_deref(), drawn.and_then(|drawn| html::page(&commands, &drawn).map_err(|f| vec![f])));
    }
    write(args.schema.as_deref(), Ok(format!("{:#}\n", schema::schema())));
    write(args.shop_schema.as_deref(), Ok(format!("{:#}\n", schema::shop())));
    write(
        args.man.as_deref(),
        man_page().map_err(|e| vec![Fault::new(format!("the man page cannot be written: {e}"))]),
    );
    if faults.is_empty() { CLEAN } else { complain(&faults) }
}

/// The man page: the program, then each command with its options.
fn man_page() -> io::Result<String> {
    let mut whole = Args::command();
    whole.build();
    let man = Man::new(whole.clone()).manual("Sheafwright");
    let mut out = Vec::new();
    man.render_title(&mut out)?;
    man.render_name_section(&mut out)?;
    man.render_synopsis_section(&mut out)?;
    man.render_description_section(&mut out)?;
    let mut text = String::from_utf8_lossy(&out).into_owned();
    for command in whole.get_subcommands().filter(|c| c.get_name() != "help") {
        text.push_str(&format!(".SH {}\n{}\n", command.get_name().to_uppercase(), about(command)));
        let man = Man::new(command.clone());
        let mut part = Vec::new();
        man.render_synopsis_section(&mut part)?;
        man.render_options_section(&mut part)?;
        // Sections of a command stand below it.
        text.push_str(&String::from_utf8_lossy(&part).replace(".SH ", ".SS "));
    }
    Ok(text)
}

fn about(command: &Command) -> String {
    let text = command.get_about().map(ToString::to_string).unwrap_or_default();
    text.replace('\\', "\\\\").replace('-', "\\-") + "."
}

/// Prints what a shell has to load so that it completes commands and names.
pub fn completions(shell: &str) -> u8 {
    let shells = Shells::builtins();
    let Some(known) = shells.completer(shell) else {
        let names: Vec<&str> = shells.names().collect();
        return complain(&[Fault::new(format!("no completions are known for `{shell}`"))
            .help(format!("there are {}", names.join(", ")))]);
    };
    let mut out = Vec::new();
    match known.write_registration(ASKED, "sheafwright", "sheafwright", "sheafwright", &mut out) {
        Ok(()) => {
            print(&String::from_utf8_lossy(&out));
            CLEAN
        }
        Err(e) => complain(&[Fault::new(format!("the completions cannot be written: {e}"))]),
    }
}
