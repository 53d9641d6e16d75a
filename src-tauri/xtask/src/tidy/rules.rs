//! The rules.

use super::{Rule, SourceFile};

/// Everything that may stand at the top, besides files that begin with a dot.
const TOP_LEVEL: &[&str] = &[
    "Cargo.toml",
    "Cargo.lock",
    "LICENSE",
    "README.md",
    "DEVELOPERS.md",
    "src-tauri",
    "ui",
    "tests",
    "demo-data",
    "icons",
];

const TEXT: &[&str] =
    &["rs", "toml", "ts", "js", "mjs", "svelte", "css", "html", "json", "md", "ftl", "sql", "yml", "svg"];

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "top level",
        reason: "a newcomer finds the way from a short list; a new entry belongs into one of the folders",
        check: top_level,
    },
    Rule {
        name: "module head",
        reason: "the first lines of a Rust file say what it is for (`//! …`), unless it holds the tests of its neighbour",
        check: module_head,
    },
    Rule {
        name: "whitespace",
        reason: "tabs, trailing blanks and a missing last newline make noise in every later change",
        check: whitespace,
    },
    Rule {
        name: "size",
        reason: "a file fits one head: Rust under 600 lines, a Svelte component under 300; split by what it does",
        check: size,
    },
    Rule {
        name: "one door to the host",
        reason: "only ui/src/platform talks to the shell, so that the same screens run in a browser",
        check: one_door,
    },
    Rule {
        name: "somebody's folders",
        reason: "an absolute path of one machine does not exist on the next",
        check: absolute_paths,
    },
    Rule {
        name: "open ends",
        reason: "a marker for later work is forgotten in the tree; finish it or file it",
        check: open_ends,
    },
    Rule {
        name: "download addresses",
        reason: "a lock file with addresses ties everyone to one mirror; the .npmrc leaves them out",
        check: download_addresses,
    },
];

fn top_level(file: &SourceFile, places: &mut Vec<String>) {
    let top = file.path.split('/').next().unwrap_or_default();
    if !top.starts_with('.') && !TOP_LEVEL.contains(&top) {
        places.push(top.to_owned());
    }
}

fn module_head(file: &SourceFile, places: &mut Vec<String>) {
    // A twin of tests is named after what it tests.
    if file.path.ends_with("_test.rs")
        || file.path.ends_with("/tests.rs")
        || file.path.contains("/tests/suite/")
    {
        return;
    }
    let head = file.text.lines().find(|line| !line.trim().is_empty() && !line.starts_with("#!["));
    if file.has_ending(&["rs"]) && !head.is_some_and(|line| line.starts_with("//! ")) {
        places.push(file.path.clone());
    }
}

fn whitespace(file: &SourceFile, places: &mut Vec<String>) {
    if !file.has_ending(TEXT) || file.text.is_empty() {
        return;
    }
    for (index, line) in file.text.lines().enumerate() {
        if line.contains('\t') || line.ends_with(' ') {
            places.push(format!("{}:{}", file.path, index + 1));
        }
    }
    if !file.text.ends_with('\n') {
        places.push(format!("{}: no newline at the end", file.path));
    }
}

fn size(file: &SourceFile, places: &mut Vec<String>) {
    let limit = match file.path.rsplit_once('.') {
        Some((_, "rs")) => 600,
        Some((_, "svelte")) => 300,
        _ => return,
    };
    let lines = file.text.lines().count();
    if lines >= limit {
        places.push(format!("{}: {lines} lines", file.path));
    }
}

fn one_door(file: &SourceFile, places: &mut Vec<String>) {
    let screen = file.path.starts_with("ui/src/") && !file.path.starts_with("ui/src/platform/");
    if screen && file.has_ending(&["ts", "js", "svelte"]) {
        push_lines(file, places, |line| line.contains("@tauri-apps") || line.contains("__TAURI"));
    }
}

fn absolute_paths(file: &SourceFile, places: &mut Vec<String>) {
    push_lines(file, places, |line| {
        ["home", "root", "Users", "work", "tmp"].iter().any(|folder| {
            let path = format!("/{folder}/");
            // Inside a longer path or an address it is somebody else's word, not a folder of a machine.
            line.match_indices(&path).any(|(at, _)| {
                !line[..at].ends_with(|before: char| before.is_alphanumeric() || "./-_~}>*$".contains(before))
            })
        })
    });
}

fn open_ends(file: &SourceFile, places: &mut Vec<String>) {
    if file.has_ending(&["rs", "ts", "js", "mjs", "svelte", "css", "toml", "ftl"]) {
        let markers = ["TO", "FIX", "X"].map(|start| match start {
            "TO" => format!("{start}DO"),
            "FIX" => format!("{start}ME"),
            _ => "X".repeat(3),
        });
        push_lines(file, places, |line| {
            line.split(|c: char| !c.is_alphanumeric()).any(|word| markers.iter().any(|marker| marker == word))
        });
    }
}

fn download_addresses(file: &SourceFile, places: &mut Vec<String>) {
    if file.path.ends_with("package-lock.json") {
        push_lines(file, places, |line| line.trim_start().starts_with("\"resolved\": \"http"));
    }
}

fn push_lines(file: &SourceFile, places: &mut Vec<String>, broken: impl Fn(&str) -> bool) {
    let lines = file.text.lines().enumerate().filter(|(_, line)| broken(line));
    places.extend(lines.map(|(index, _)| format!("{}:{}", file.path, index + 1)));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places at which a file breaks the rule of a name.
    fn broken(rule: &str, path: &str, text: &str) -> Vec<String> {
        let file = SourceFile { path: path.to_owned(), text: text.to_owned() };
        let mut places = Vec::new();
        (RULES.iter().find(|candidate| candidate.name == rule).unwrap().check)(&file, &mut places);
        places
    }

    #[test]
    fn a_new_entry_at_the_top_is_named() {
        assert_eq!(broken("top level", "scripts/a.sh", ""), ["scripts"]);
        assert!(broken("top level", ".ci/run", "").is_empty());
        assert!(broken("top level", "ui/src/main.ts", "").is_empty());
    }

    #[test]
    fn a_rust_file_begins_with_what_it_is_for() {
        assert_eq!(broken("module head", "a.rs", "use b;\n"), ["a.rs"]);
        assert!(broken("module head", "src/a_test.rs", "use b;\n").is_empty());
        assert!(broken("module head", "a.rs", "#![allow(x)]\n\n//! Does a.\n").is_empty());
    }

    #[test]
    fn tabs_blanks_and_a_missing_newline_are_named_by_line() {
        assert_eq!(
            broken("whitespace", "a.ts", "a \nb\n\tc"),
            ["a.ts:1", "a.ts:3", "a.ts: no newline at the end"]
        );
        assert!(broken("whitespace", "a.png", "a ").is_empty());
    }

    #[test]
    fn long_files_are_named_with_their_length() {
        assert_eq!(broken("size", "a.svelte", &"x\n".repeat(300)), ["a.svelte: 300 lines"]);
        assert!(broken("size", "a.rs", &"x\n".repeat(599)).is_empty());
    }

    #[test]
    fn only_the_platform_folder_may_import_the_shell() {
        let line = "import { invoke } from \"@tauri-apps/api/core\";\n";
        assert_eq!(broken("one door to the host", "ui/src/features/a.svelte", line).len(), 1);
        assert!(broken("one door to the host", "ui/src/platform/tauri.ts", line).is_empty());
    }

    #[test]
    fn folders_of_a_machine_are_found_and_addresses_are_not() {
        let path = |folder: &str| format!("see \"/{folder}/ann/x\"\n");
        assert_eq!(broken("somebody's folders", "a.md", &path("home")), ["a.md:1"]);
        assert!(broken("somebody's folders", "a.md", "https://example.org/home/x and ./tmp/y\n").is_empty());
    }

    #[test]
    fn markers_and_download_addresses_are_found() {
        assert_eq!(broken("open ends", "a.rs", &format!("// {}: later\n", "TO".to_owned() + "DO")).len(), 1);
        assert!(broken("open ends", "a.rs", "let todos = 1;\n").is_empty());
        let line = "  \"resolved\": \"https://example.org/a.tgz\",\n";
        assert_eq!(broken("download addresses", "ui/package-lock.json", line).len(), 1);
    }
}
