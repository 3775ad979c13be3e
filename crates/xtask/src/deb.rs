//! `cargo xtask deb`: the program as a Debian package, with its desktop entry, file type, icon, manual and completions.
//!
//! The package is written here, by the format of `deb(5)`: an `ar` archive of a version, a control archive and a data
//! archive. Nothing in it hangs on the machine or the day, so the same program gives the same package.

use anyhow::{Context, Result, bail};
use flate2::{Compression, GzBuilder};
use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the window needs of a Debian system. Those that it opens as it starts are not found by looking at the binary.
const DEPENDS: &str = "libc6 (>= 2.34), libgcc-s1, libegl1, libgl1, libx11-6, libx11-xcb1, libxcursor1, libxi6, \
                       libxkbcommon-x11-0, libwayland-client0";

/// Where completions go, for each shell, with what their file is called.
const SHELLS: [(&str, &str); 3] = [
    ("bash", "usr/share/bash-completion/completions/foliowright"),
    ("zsh", "usr/share/zsh/vendor-completions/_foliowright"),
    ("fish", "usr/share/fish/vendor_completions.d/foliowright.fish"),
];

/// A file of the package: its path without a leading slash, its bytes, and whether it is run.
struct Item {
    path: String,
    bytes: Vec<u8>,
    runs: bool,
}

/// Packs a program, or without one that which it builds in release, into `target/debian`.
pub(crate) fn run(root: &Path, program: Option<&str>) -> Result<PathBuf> {
    let target = target_folder(root)?;
    let program = match program {
        Some(program) => PathBuf::from(program),
        None => {
            let build = ["build", "--release", "-p", "foliowright"];
            if !Command::new(env!("CARGO")).args(build).current_dir(root).status()?.success() {
                bail!("foliowright does not build");
            }
            target.join("release/foliowright")
        }
    };
    let items = items(root, &program)?;
    let (version, architecture) = (env!("CARGO_PKG_VERSION"), architecture()?);
    let control = control(version, architecture, &items);
    let folder = target.join("debian");
    std::fs::create_dir_all(&folder)?;
    let place = folder.join(format!("foliowright_{version}_{architecture}.deb"));
    std::fs::write(&place, packed(&control, &items)?)?;
    Ok(place)
}

fn target_folder(root: &Path) -> Result<PathBuf> {
    let out =
        Command::new(env!("CARGO")).args(["metadata", "--format-version=1", "--no-deps"]).current_dir(root).output()?;
    let text = String::from_utf8(out.stdout)?;
    let (_, rest) = text.split_once("\"target_directory\":\"").context("cargo metadata names no target folder")?;
    let (path, _) = rest.split_once('"').context("cargo metadata was cut short")?;
    Ok(PathBuf::from(path))
}

fn architecture() -> Result<&'static str> {
    Ok(match std::env::consts::ARCH {
        "x86_64" => "amd64",
        "aarch64" => "arm64",
        "riscv64" => "riscv64",
        other => bail!("Debian's name for {other} is not known here"),
    })
}

/// All that is installed.
fn items(root: &Path, program: &Path) -> Result<Vec<Item>> {
    let said = |words: &[&str]| -> Result<Vec<u8>> {
        let out = Command::new(program).args(words).output().with_context(|| program.display().to_string())?;
        if !out.status.success() {
            bail!("foliowright {} failed: {}", words.join(" "), String::from_utf8_lossy(&out.stderr));
        }
        Ok(out.stdout)
    };
    let read = |path: &str| std::fs::read(root.join(path)).with_context(|| path.to_owned());
    let item = |path: &str, bytes: Vec<u8>| Item { path: path.to_owned(), bytes, runs: false };
    let mut all = vec![
        Item { path: "usr/bin/foliowright".to_owned(), bytes: std::fs::read(program)?, runs: true },
        item("usr/share/applications/foliowright.desktop", read("assets/desktop/foliowright.desktop")?),
        item("usr/share/mime/packages/foliowright.xml", read("assets/desktop/foliowright.xml")?),
        item("usr/share/icons/hicolor/scalable/apps/foliowright.svg", read("assets/desktop/foliowright.svg")?),
        item("usr/share/doc/foliowright/copyright", copyright(root)?),
        item("usr/share/doc/foliowright/changelog.gz", zipped(&read("docs/changelog.md")?)?),
        item("usr/share/doc/foliowright/notices.md", read("docs/notices.md")?),
    ];
    for (shell, path) in SHELLS {
        all.push(item(path, said(&["completions", shell])?));
    }
    for page in pages(&String::from_utf8(said(&["manual"])?)?, "") {
        let words: Vec<&str> =
            std::iter::once("manual").chain(page.split('-').filter(|word| !word.is_empty())).collect();
        let name = if page.is_empty() { "foliowright".to_owned() } else { format!("foliowright-{page}") };
        let text = said(&words)?;
        all.push(item(&format!("usr/share/man/man1/{name}.1.gz"), zipped(&text)?));
        // Commands within this one have pages too.
        if !page.is_empty() {
            for below in pages(&String::from_utf8(text)?, &page).into_iter().filter(|below| *below != page) {
                let words: Vec<&str> = std::iter::once("manual").chain(below.split('-')).collect();
                all.push(item(&format!("usr/share/man/man1/foliowright-{below}.1.gz"), zipped(&said(&words)?)?));
            }
        }
    }
    all.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(all)
}

/// The pages that a page names: itself, and one for each command that it lists, without the program's name.
fn pages(page: &str, own: &str) -> Vec<String> {
    let plain = page.replace("\\-", "-");
    let prefix = if own.is_empty() { "foliowright-".to_owned() } else { format!("foliowright-{own}-") };
    let named = plain.lines().filter_map(|line| line.strip_prefix(&prefix)?.strip_suffix("(1)"));
    let mut all: BTreeSet<String> = named
        .filter(|name| *name != "help" && !name.ends_with("-help"))
        .map(|name| if own.is_empty() { name.to_owned() } else { format!("{own}-{name}") })
        .collect();
    all.insert(own.to_owned());
    all.into_iter().collect()
}

fn copyright(root: &Path) -> Result<Vec<u8>> {
    let licence = std::fs::read_to_string(root.join("docs/LICENSE-MIT"))?;
    Ok(format!(
        "Foliowright is under the MIT licence, which follows, or the Apache licence 2.0 (in\n\
         /usr/share/common-licenses/Apache-2.0), as you choose. What it is built from is named, with its licences, in\n\
         notices.md beside this file.\n\n{licence}"
    )
    .into_bytes())
}

fn control(version: &str, architecture: &str, items: &[Item]) -> String {
    let kib = items.iter().map(|item| item.bytes.len().div_ceil(1024)).sum::<usize>();
    format!(
        "Package: foliowright\nVersion: {version}\nArchitecture: {architecture}\nMaintainer: The Foliowright makers \
         <foliowright@localhost>\nInstalled-Size: {kib}\nDepends: {DEPENDS}\nSection: graphics\nPriority: optional\n\
         Description: Designer for small folios of folded paper\n From one sheet of patterned paper to a folio that closes: \
         score lines and cuts,\n what will go wrong at the table, parts from every offcut, templates and booklets.\n"
    )
}

/// The package's bytes.
fn packed(control: &str, items: &[Item]) -> Result<Vec<u8>> {
    let control = Item { path: "control".to_owned(), bytes: control.as_bytes().to_vec(), runs: false };
    let parts = [
        ("debian-binary", b"2.0\n".to_vec()),
        ("control.tar.gz", zipped(&archive(std::slice::from_ref(&control))?)?),
        ("data.tar.gz", zipped(&archive(items)?)?),
    ];
    let mut out = ar::Builder::new(Vec::new());
    for (name, bytes) in parts {
        let mut header = ar::Header::new(name.as_bytes().to_vec(), u64::try_from(bytes.len())?);
        header.set_mode(0o100_644);
        out.append(&header, bytes.as_slice())?;
    }
    Ok(out.into_inner()?)
}

/// A tar archive of files and the folders that they are in, all of them root's and without a date.
fn archive(items: &[Item]) -> Result<Vec<u8>> {
    let mut out = tar::Builder::new(Vec::new());
    let mut folders = BTreeSet::new();
    for item in items {
        folders.extend(Path::new(&item.path).ancestors().skip(1).filter(|folder| *folder != Path::new("")));
    }
    let header = |kind, size: usize, mode| -> Result<tar::Header> {
        let mut header = tar::Header::new_gnu();
        header.set_entry_type(kind);
        header.set_size(u64::try_from(size)?);
        header.set_mode(mode);
        header.set_mtime(0);
        header.set_uid(0);
        header.set_gid(0);
        header.set_username("root")?;
        header.set_groupname("root")?;
        Ok(header)
    };
    for folder in folders {
        let mut header = header(tar::EntryType::Directory, 0, 0o755)?;
        out.append_data(&mut header, format!("./{}/", folder.display()), std::io::empty())?;
    }
    for item in items {
        let mut header = header(tar::EntryType::Regular, item.bytes.len(), if item.runs { 0o755 } else { 0o644 })?;
        out.append_data(&mut header, format!("./{}", item.path), item.bytes.as_slice())?;
    }
    Ok(out.into_inner()?)
}

fn zipped(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut out = GzBuilder::new().write(Vec::new(), Compression::best());
    out.write_all(bytes)?;
    Ok(out.finish()?)
}
