//! The inspection page as people meet it: opened from disk in a real browser, with and without solids, by mouse, by
//! keyboard, on a tablet and on paper. Where there is no Chromium these tests say so and pass.

mod browser;
#[path = "page/series.rs"]
mod series;
#[path = "page/what_if.rs"]
mod what_if;
#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use tempfile::TempDir;
use threadwright::proof;
use threadwright::rs274::{self, Run};
use threadwright::setup::Setup;
use threadwright::source::Source;
use threadwright::stock::{self, Grid};

use browser::{Browser, Solids};

/// Writes the page of a job (and a program) into a folder.
fn show(folder: &Path, job: &str, program: Option<&str>) -> PathBuf {
    let page = folder.join("page.html");
    let mut command = Command::new(env!("CARGO_BIN_EXE_threadwright"));
    command.arg("show").arg(common::root().join(job));
    command.args(program.map(|program| common::root().join(program)));
    let status =
        command.arg("--out").arg(&page).args(["--quiet", "--replace"]).stderr(Stdio::null()).status();
    let code = status.expect("the tool can be started").code();
    assert!(matches!(code, Some(0 | 1)), "{job}: {code:?}");
    page
}

const LARGEST: &str = "samples/standing-press.toml";
const NIPPING: &str = "samples/nipping-press.toml";
/// A job of several programs.
const SERIES: &str = "samples/finishing-press.toml";

/// Most bytes of the page of the largest sample.
const MOST_BYTES: u64 = 1_200_000;

#[test]
fn a_page_is_small_whole_and_the_same_each_time() {
    let folder = TempDir::new().expect("a folder can be made");
    let first = std::fs::read_to_string(show(folder.path(), LARGEST, None)).expect("the page is text");
    let other = TempDir::new().expect("a folder can be made");
    let second = std::fs::read_to_string(show(other.path(), LARGEST, None)).expect("the page is text");
    assert_eq!(first, second);
    assert!((first.len() as u64) < MOST_BYTES, "{} bytes", first.len());
    assert!(!first.contains("{{"), "a place was not filled");
    // Nothing is fetched: no address, no file, no module.
    for trace in ["http:", "https:", " src=", "<link", "import(", "@import"] {
        assert!(!first.contains(trace), "the page holds {trace:?}");
    }
}

#[test]
fn pages_open_from_disk_without_complaint_and_draw_solids() {
    let Some(mut browser) = Browser::start("pages open from disk", Solids::Drawn) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    for (job, program) in [(LARGEST, None), (NIPPING, Some("tests/faults/index-forgotten.nc"))] {
        // Small, since software has to draw it.
        browser.size(1024, 600);
        browser.open(&show(folder.path(), job, program));
        // What stands in the middle of the picture is wood, not the empty ground.
        let middle = browser.ask(
            "(() => { const { solid } = inspection; solid.draw(1); const { gl, canvas } = solid; const p = new Uint8Array(4);
             gl.readPixels(canvas.width >> 1, canvas.height >> 1, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, p); return [...p]; })()",
        );
        let [red, green, blue] = [0, 1, 2].map(|i| middle[i].as_i64().expect("a pixel has colours"));
        assert!(red > blue + 10 && green > blue, "{job}: the middle of the solid is {middle}");
        // Both jobs have a nut that is milled: it stands with its screw in three seasons.
        let pairs = browser.ask("document.querySelectorAll('svg.pair path.nut-wood').length");
        assert_eq!(pairs, json!(3), "{job}");
        assert_eq!(browser.complaints, Vec::<String>::new(), "{job}");
    }
    // Opening at rest draws a few frames and then none.
    let drawn = "(async () => { const before = inspection.solid.frames; await new Promise(r => setTimeout(r, 400)); return inspection.solid.frames - before; })()";
    std::thread::sleep(std::time::Duration::from_millis(600));
    assert_eq!(browser.ask(drawn), json!(0), "the solid view draws though nothing has changed");
}

#[test]
fn without_solids_the_drawing_stands_in_and_the_rest_works() {
    let Some(mut browser) = Browser::start("a page without solids", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 900);
    browser.open(&show(folder.path(), NIPPING, None));
    assert_eq!(browser.complaints, Vec::<String>::new());
    let words = browser.ask("document.getElementById('solid').textContent");
    assert!(words.as_str().is_some_and(|words| words.contains("draws no solids")), "{words}");
    let drawn = "(async () => { const p = document.querySelector('#sheet img'); await p.decode(); return p.naturalWidth > 0 && p.clientHeight > 100; })()";
    assert_eq!(browser.ask(drawn), json!(true), "the shop drawing stands there");
    browser.ask("inspection.cursor.toMotion(3); inspection.cursor.flush()");
    let now = browser.ask("document.getElementById('now').textContent");
    assert!(now.as_str().is_some_and(|now| now.starts_with("line ")), "{now}");
}

/// The wood after the first lines of a program, carved by the crate on the page's grid: rows of radii.
fn carved(setup: &Setup, text: &str, lines: usize, grid: Grid) -> Vec<Vec<f32>> {
    let run = run_of(setup, text, lines);
    stock::carve(&[], &run.motions, setup, grid, |row| Some(row.radii_mm.to_vec())).rows
}

/// The motions of the first lines of a program.
fn run_of(setup: &Setup, text: &str, lines: usize) -> Run {
    let part: Vec<&str> = text.lines().take(lines).collect();
    let program: Arc<Source> = Source::new("part.nc", part.join("\n") + "\n");
    rs274::run(&program, &proof::control(setup))
}

/// The grid of the page that is open, and the step of its radii.
fn grid_of(browser: &mut Browser) -> (Grid, f64) {
    let facts = browser.ask("({...inspection.facts.grid, blank: 0})");
    let number = |name: &str| facts[name].as_f64().unwrap_or_else(|| panic!("{name} is no number: {facts}"));
    let grid = Grid {
        from_s_mm: number("from"),
        step_mm: number("step"),
        stations: number("stations") as usize,
        rows: number("rows") as usize,
    };
    (grid, number("radiusStep"))
}

/// The radii that the page shows at the end of a line of one of its programs, row by row.
fn shown_after(browser: &mut Browser, part: usize, line: usize, step: f64) -> Vec<f64> {
    browser.ask(&format!(
        "inspection.cursor.toMotion(inspection.cursor.motionOfLine({line}, {part})); inspection.cursor.flush()"
    ));
    let bytes = browser.ask(
        "(() => { const b = new Uint8Array(inspection.wood.radius.buffer); let t = ''; for (let i = 0; i < b.length; i += 8192) t += String.fromCharCode(...b.subarray(i, i + 8192)); return btoa(t); })()",
    );
    let bytes = STANDARD.decode(bytes.as_str().expect("the wood comes as text")).expect("it is base64");
    bytes.chunks_exact(2).map(|b| f64::from(u16::from_le_bytes([b[0], b[1]])) * step).collect()
}

/// Greatest difference between radii.
fn worst(wood: &[Vec<f32>], shown: &[f64]) -> f64 {
    wood.iter().flatten().zip(shown).map(|(&a, b)| (f64::from(a) - b).abs()).fold(0.0, f64::max)
}

#[test]
fn scrubbing_shows_what_the_crate_carves_up_to_that_line() {
    let Some(mut browser) = Browser::start("scrubbing", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    let cases = [
        ("samples/standing-press.toml", None, [70, 90, 139, 162]),
        (NIPPING, Some("tests/faults/groove-on-the-crest.nc"), [45, 62, 80, 117]),
    ];
    for (job, program, lines) in cases {
        let made = common::make(job);
        let text = program
            .map_or(made.program.clone(), |path| common::read(&common::root().join(path)).text().to_owned());
        browser.open(&show(folder.path(), job, program));
        let (grid, step) = grid_of(&mut browser);
        // Later lines first, so that the wood is also seen to grow back.
        for line in lines.into_iter().rev().chain([lines[1]]) {
            let wood = carved(&made.setup, &text, line, grid);
            let worst = worst(&wood, &shown_after(&mut browser, 0, line, step));
            // Half a step of a radius, and what single precision adds.
            assert!(worst <= step / 2.0 + 1e-4, "{job} line {line}: the page is off by {worst} mm");
            section_is_that_of(&mut browser, &wood, grid);
        }
        map_is_coloured_by(&mut browser, &carved(&made.setup, &text, lines[1], grid), grid);
    }
}

/// The outline in the section panel stands where the carved radii are.
fn section_is_that_of(browser: &mut Browser, wood: &[Vec<f32>], grid: Grid) {
    let seen = browser.ask(
        "(() => { const { cursor, section } = inspection; cursor.toPlace(97.3, 2.2); cursor.flush();
          const d = document.querySelector('#section .edge').getAttribute('d');
          const high = section.box.clientHeight; const [low, top] = section.range;
          const scale = (high - 24) / (top - low);
          return { row: cursor.row, first: inspection.wood.column(cursor.s - (section.box.clientWidth - 52) / scale / 2 - inspection.facts.grid.step),
            radii: d.match(/[ML][\\d.-]+ [\\d.-]+/g).map((p) => top - (+p.split(' ')[1] - 6) / scale) }; })()",
    );
    let row = seen["row"].as_u64().expect("a row") as usize;
    let first = seen["first"].as_u64().expect("a column") as usize;
    let radii = seen["radii"].as_array().expect("radii");
    assert!(radii.len() > 20 && first + radii.len() <= grid.stations, "{} points from {first}", radii.len());
    for (i, radius) in radii.iter().enumerate() {
        let off = radius.as_f64().expect("a radius") - f64::from(wood[row][first + i]);
        // A hundredth of a pixel of the drawing.
        assert!(off.abs() < 0.01, "column {}: off by {off} mm", first + i);
    }
}

/// The map's colours follow the depth: deeper is later in the row of colours.
fn map_is_coloured_by(browser: &mut Browser, wood: &[Vec<f32>], grid: Grid) {
    let places: Vec<[usize; 2]> = (0..40).map(|i| [i * 37 % grid.rows, i * 101 % grid.stations]).collect();
    let indices = browser.ask(&format!(
        "(() => {{ const {{ map, facts }} = inspection; map.drawWood(); const {{ rows, stations }} = facts.grid;
          const index = new Map(); return {{ deepest: map.deepest, top: map.top,
          pixels: {}.map(([r, c]) => [...new Uint8Array(map.pixels.buffer, 4 * ((rows - 1 - r) * stations + c), 3)]) }}; }})()",
        json!(places)
    ));
    let (deepest, top) =
        (indices["deepest"].as_f64().expect("depth"), indices["top"].as_f64().expect("radius"));
    let mut shades: Vec<(f64, i64)> = places
        .iter()
        .zip(indices["pixels"].as_array().expect("pixels"))
        .map(|(&[row, column], pixel)| {
            let depth = (top - f64::from(wood[row][column])) / deepest;
            // Red and green of cividis grow with depth all the way.
            (depth, pixel[1].as_i64().expect("green"))
        })
        .collect();
    shades.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(shades.windows(2).all(|pair| pair[0].1 <= pair[1].1 + 1), "{shades:?}");
    assert!(shades.last().expect("places").1 > shades[0].1 + 40, "everything has one colour: {shades:?}");
}

/// Scrubbing answers within this much script time, ms.
const MOST_SCRIPT_MS: f64 = 50.0;

#[test]
fn one_cursor_links_map_section_program_and_time() {
    let Some(mut browser) = Browser::start("the cursor", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 1000);
    browser.open(&show(folder.path(), LARGEST, None));
    let settled = |browser: &mut Browser| browser.ask("inspection.cursor.flush()");
    // A click on the map moves the place: reading, section and crosshair follow.
    let at = browser.ask("(() => { const b = document.getElementById('map').getBoundingClientRect(); return [b.left + inspection.map.x(123), b.top + inspection.map.y(Math.PI)]; })()");
    browser.click(at[0].as_f64().expect("x"), at[1].as_f64().expect("y"));
    settled(&mut browser);
    let reading = browser.ask("document.getElementById('reading').textContent");
    assert!(
        reading.as_str().is_some_and(|text| text.starts_with("station 12") && text.contains("180")),
        "{reading}"
    );
    let station = browser.ask("inspection.cursor.s").as_f64().expect("a station");
    assert!((station - 123.0).abs() < 1.0, "{station}");
    let angle = browser.ask("document.getElementById('section-at').textContent");
    assert!(angle.as_str().is_some_and(|text| text.contains("180") || text.contains("179")), "{angle}");
    // Arrow keys move it on; enter goes to the line that cut there last.
    browser.ask("document.getElementById('map').focus()");
    browser.key("ArrowRight");
    settled(&mut browser);
    assert!(browser.ask("inspection.cursor.s").as_f64().expect("a station") > station);
    browser.key("Enter");
    settled(&mut browser);
    let by = browser.ask("inspection.facts.story.line[inspection.wood.cutBy(inspection.cursor.row, inspection.cursor.column)] ?? 0");
    let line = browser.ask("inspection.cursor.line");
    assert!(by == json!(0) || by == line, "cut by {by}, shown {line}");
    // A line of the program moves the time; the slider, the list and the words of the moment follow.
    browser.ask("document.getElementById('line-95').click()");
    settled(&mut browser);
    assert_eq!(browser.ask("inspection.cursor.line"), json!(95));
    assert_eq!(
        browser.ask("document.getElementById('line-95').getAttribute('aria-selected')"),
        json!("true")
    );
    let value = browser.ask("document.getElementById('moment').getAttribute('aria-valuetext')");
    assert!(
        value.as_str().is_some_and(|text| text.starts_with("line 95,") && text.contains("pass 7 of 15")),
        "{value}"
    );
    // The slider by keyboard: line by line.
    browser.ask("document.getElementById('moment').focus()");
    browser.key("ArrowRight");
    settled(&mut browser);
    assert_eq!(browser.ask("inspection.cursor.line"), json!(96));
    // Dragging through the cut is quick: the best of several, since others use this machine too.
    let script = browser.ask(
        "(() => { let best = Infinity; for (let i = 0; i < 12; i++) { inspection.cursor.toMinutes((i * 7.3) % 36); inspection.cursor.flush(); best = Math.min(best, inspection.cursor.scriptMs); } return best; })()",
    );
    assert!(script.as_f64().is_some_and(|ms| ms < MOST_SCRIPT_MS), "{script} ms");
    assert_eq!(browser.complaints, Vec::<String>::new());
}

#[test]
fn findings_jump_to_their_place() {
    let Some(mut browser) = Browser::start("findings", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 900);
    for fault in ["rapid-through-wood", "one-pass-off-its-index", "pass-too-deep"] {
        browser.open(&show(folder.path(), NIPPING, Some(&format!("tests/faults/{fault}.nc"))));
        let verdict = browser.ask("document.getElementById('verdict').textContent");
        assert!(verdict.as_str().is_some_and(|text| text.contains("not proved")), "{verdict}");
        let count = browser.ask("document.querySelectorAll('.finding').length").as_u64().expect("a count");
        assert!(count > 0, "{fault}: no finding is listed");
        for index in 0..count {
            browser.ask(&format!(
                "document.querySelectorAll('.finding')[{index}].click(); inspection.cursor.flush()"
            ));
            let seen = browser.ask(&format!(
                "({{ finding: inspection.facts.findings[{index}], line: inspection.program.at, s: inspection.cursor.s, rad: inspection.cursor.rad, from: inspection.facts.grid.from }})"
            ));
            let finding = &seen["finding"];
            if !finding["program"].is_null() {
                assert_eq!(seen["line"], finding["line"], "{fault}: {finding}");
            }
            if let (Some(s), Some(theta)) = (finding["s"].as_f64(), finding["thetaDeg"].as_f64()) {
                let off =
                    (seen["s"].as_f64().expect("s") - s.max(seen["from"].as_f64().expect("from"))).abs();
                assert!(off < 1.0, "{fault}: {seen}");
                let turned = (seen["rad"].as_f64().expect("rad").to_degrees() - theta).rem_euclid(360.0);
                assert!(turned.min(360.0 - turned) < 0.01, "{fault}: {seen}");
            }
        }
        assert_eq!(browser.complaints, Vec::<String>::new());
    }
}

#[test]
fn a_page_prints_on_one_sheet() {
    let Some(mut browser) = Browser::start("printing", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 900);
    let cases = [(LARGEST, None), (SERIES, None), (NIPPING, Some("tests/faults/one-pass-off-its-index.nc"))];
    for (job, program) in cases {
        browser.open(&show(folder.path(), job, program));
        // The pictures that are laid down for paper show something: a canvas that was never drawn has one colour.
        let colours = browser.ask(
            "(async () => { window.dispatchEvent(new Event('beforeprint'));
              const counts = [];
              for (const picture of document.querySelectorAll('img.paper')) {
                await picture.decode();
                const canvas = new OffscreenCanvas(picture.naturalWidth, picture.naturalHeight);
                const context = canvas.getContext('2d');
                context.drawImage(picture, 0, 0);
                counts.push(new Set(new Uint32Array(context.getImageData(0, 0, canvas.width, canvas.height).data.buffer)).size);
              }
              window.dispatchEvent(new Event('afterprint'));
              return counts; })()",
        );
        let counts: Vec<u64> =
            colours.as_array().expect("pictures").iter().filter_map(Value::as_u64).collect();
        assert!(counts.len() == 2 && counts.iter().all(|&count| count > 20), "{job}: {counts:?} colours");
        let pdf =
            browser.call("Page.printToPDF", json!({"printBackground": true, "preferCSSPageSize": true}));
        let pdf = STANDARD.decode(pdf["data"].as_str().expect("a document")).expect("it is base64");
        let text = String::from_utf8_lossy(&pdf);
        let pages = text.matches("/Type /Page").count() - text.matches("/Type /Pages").count();
        assert_eq!(pages, 1, "{job}");
    }
}

/// Least contrast of text: WCAG 2.2, success criterion 1.4.3, level AA.
const LEAST_CONTRAST: f64 = 4.5;
/// Least contrast of lines and signs that carry meaning: success criterion 1.4.11.
const LEAST_SIGN_CONTRAST: f64 = 3.0;

/// Relative luminance (WCAG 2.2, its definition) of the colour that CSS or a canvas names.
const LUMINANCE: &str = "const channel = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const parts = (c) => { const p = document.createElement('canvas').getContext('2d'); p.fillStyle = c; p.fillRect(0, 0, 1, 1); return [...p.getImageData(0, 0, 1, 1).data]; };
  const light = (c) => { const [r, g, b] = parts(c).map(channel); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const contrast = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };";

#[test]
fn everything_can_be_read_in_light_and_dark() {
    let Some(mut browser) = Browser::start("contrast", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 900);
    let pages = [(NIPPING, Some("tests/faults/one-slow-pass.nc")), (SERIES, None)];
    let themes = ["light", "dark"];
    for ((job, program), theme) in pages.into_iter().flat_map(|page| themes.map(|theme| (page, theme))) {
        let page = show(folder.path(), job, program);
        let media = json!({"features": [{"name": "prefers-color-scheme", "value": theme}]});
        browser.call("Emulation.setEmulatedMedia", media);
        browser.open(&page);
        assert_eq!(browser.ask("document.documentElement.dataset.theme"), json!(theme));
        let faint = browser.ask(&format!(
            "(() => {{ {LUMINANCE}
              const ground = (e) => {{ for (; e; e = e.parentElement) {{ const c = getComputedStyle(e).backgroundColor; if (parts(c)[3] === 255) return c; }} return 'white'; }};
              const seen = [];
              const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
              while (walk.nextNode()) {{
                const e = walk.currentNode.parentElement;
                if (!walk.currentNode.data.trim() || !e.checkVisibility() || ['SCRIPT', 'STYLE', 'NOSCRIPT'].includes(e.tagName)) continue;
                const style = getComputedStyle(e);
                const ink = e.namespaceURI.endsWith('svg') ? style.fill : style.color;
                seen.push([contrast(ink, ground(e)), walk.currentNode.data.trim().slice(0, 30)]);
              }}
              return {{ count: seen.length, least: Math.min(...seen.map((s) => s[0])), faint: seen.filter((s) => s[0] < {LEAST_CONTRAST}) }}; }})()"
        ));
        assert!(faint["count"].as_u64().is_some_and(|count| count > 100), "{faint}");
        assert_eq!(faint["faint"], json!([]), "{theme}: least {}", faint["least"]);
        // What canvases draw: words, and signs and lines that carry meaning.
        let pairs = [
            ("ink", "panel", LEAST_CONTRAST),
            ("quiet", "panel", LEAST_CONTRAST),
            ("on-cutting", "cutting", LEAST_CONTRAST),
            ("cursor", "panel", LEAST_SIGN_CONTRAST),
            ("stop", "panel", LEAST_SIGN_CONTRAST),
            ("care-edge", "panel", LEAST_SIGN_CONTRAST),
            ("note", "panel", LEAST_SIGN_CONTRAST),
            ("cutting", "panel", LEAST_SIGN_CONTRAST),
            ("rapid", "panel", LEAST_SIGN_CONTRAST),
            ("lane-edge", "panel", LEAST_SIGN_CONTRAST),
            ("focus", "panel", LEAST_SIGN_CONTRAST),
        ];
        for (ink, ground, least) in pairs {
            let ratio = browser.ask(&format!(
                "(() => {{ {LUMINANCE} const v = (n) => getComputedStyle(document.documentElement).getPropertyValue('--' + n).trim(); return contrast(v('{ink}'), v('{ground}')); }})()"
            ));
            assert!(
                ratio.as_f64().is_some_and(|ratio| ratio >= least),
                "{theme}: {ink} on {ground} is {ratio}"
            );
        }
    }
}

#[test]
fn the_keyboard_reaches_everything_in_a_sensible_order() {
    let Some(mut browser) = Browser::start("the keyboard", Solids::Drawn) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.size(1440, 900);
    browser.open(&show(folder.path(), NIPPING, Some("tests/faults/one-slow-pass.nc")));
    let mut order: Vec<String> = Vec::new();
    for _ in 0..60 {
        browser.key("Tab");
        let here = browser.ask("(() => { const e = document.activeElement; return e === document.body ? '' : e.id || e.dataset.look || e.name || e.className; })()");
        let here = here.as_str().unwrap_or("").to_owned();
        if here.is_empty() {
            break;
        }
        order.push(here);
    }
    order.dedup();
    let wanted = [
        "skip",
        "theme",
        "paint",
        "map",
        "map-closer",
        "map-wider",
        "map-whole",
        "quarter",
        "side",
        "end",
        "near",
        "on-machine",
        "show-path",
        "show-cutter",
        "solid",
        "finding",
        "program",
        "go-start",
        "go-back",
        "go-play",
        "go-on",
        "go-end",
        "moment",
        "whatif-back",
        "ask-rpm",
        "ask-feed",
        "ask-wood",
        "ask-edge",
    ];
    assert_eq!(
        order.iter().filter(|name| *name != "findings-panel").collect::<Vec<_>>(),
        wanted.iter().collect::<Vec<_>>()
    );
    // Every control has a name and a role that a screen reader can say.
    let tree = browser.call("Accessibility.getFullAXTree", json!({}));
    let nodes: &[Value] = tree["nodes"].as_array().map_or(&[], Vec::as_slice);
    let controls = ["button", "slider", "combobox", "radio", "checkbox", "listbox", "application", "link"];
    let named = |node: &&Value| node["name"]["value"].as_str().is_some_and(|name| !name.trim().is_empty());
    let of_kind: Vec<&Value> = nodes
        .iter()
        .filter(|node| controls.contains(&node["role"]["value"].as_str().unwrap_or("")))
        .filter(|node| node["ignored"] != json!(true))
        .collect();
    assert!(of_kind.len() > 20, "{} controls", of_kind.len());
    let nameless: Vec<&&Value> = of_kind.iter().filter(|node| !named(node)).collect();
    assert!(nameless.is_empty(), "{nameless:?}");
}

#[test]
fn a_tablet_shows_everything_without_scrolling_sideways() {
    let Some(mut browser) = Browser::start("a tablet", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    let sizes = [(768, 1024), (820, 1180), (1180, 820), (1024, 768)];
    let pages = [(NIPPING, Some("tests/faults/one-slow-pass.nc")), (SERIES, None)];
    for ((job, program), (wide, high)) in pages.into_iter().flat_map(|page| sizes.map(|size| (page, size))) {
        let page = show(folder.path(), job, program);
        browser.size(wide, high);
        browser.open(&page);
        let over = browser.ask("document.documentElement.scrollWidth - innerWidth");
        assert!(over.as_i64().is_some_and(|over| over <= 0), "{wide} x {high}: {over} pixels too wide");
        let panels = browser.ask("[...document.querySelectorAll('.panel')].filter((p) => p.clientHeight < 30 || p.clientWidth < 250).map((p) => p.id)");
        assert_eq!(panels, json!([]), "{wide} x {high}");
    }
}
