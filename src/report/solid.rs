//! The carved wood as a closed surface of triangles, for other programs: binary STL, and 3MF, which says its unit.
//! X is the station, Z is up at angle 0; lengths in mm.

use std::f64::consts::TAU;
use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use crate::stock::Grid;

/// A closed surface: places, and triangles whose corners run anticlockwise seen from outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// Places, mm.
    pub places: Vec<[f32; 3]>,
    /// Corners of each triangle, as places.
    pub triangles: Vec<[u32; 3]>,
}

impl Solid {
    /// From radii on a grid (rows of stations), closed by a flat at either end.
    pub fn of(grid: Grid, radii_mm: &[Vec<f32>]) -> Solid {
        let (rows, stations) = (grid.rows, grid.stations);
        let mut places = Vec::with_capacity(rows * stations + 2);
        for (row, radii) in radii_mm.iter().enumerate() {
            let (sin, cos) = (TAU * row as f64 / rows as f64).sin_cos();
            for (column, &radius) in radii.iter().enumerate() {
                let r = f64::from(radius);
                places.push([grid.station_mm(column) as f32, (-r * sin) as f32, (r * cos) as f32]);
            }
        }
        let ends = [0, stations - 1].map(|column| {
            places.push([grid.station_mm(column) as f32, 0.0, 0.0]);
            places.len() as u32 - 1
        });
        let at = |row: usize, column: usize| ((row % rows) * stations + column) as u32;
        let mut triangles = Vec::with_capacity(2 * rows * stations);
        for row in 0..rows {
            for column in 1..stations {
                let (a, b) = (at(row, column - 1), at(row, column));
                let (c, d) = (at(row + 1, column), at(row + 1, column - 1));
                triangles.extend([[a, d, c], [a, c, b]]);
            }
            triangles.push([ends[0], at(row + 1, 0), at(row, 0)]);
            triangles.push([ends[1], at(row, stations - 1), at(row + 1, stations - 1)]);
        }
        Solid { places, triangles }
    }

    /// Binary STL.
    pub fn stl(&self) -> Vec<u8> {
        let mut bytes = vec![b' '; 80];
        let head = b"threadwright, lengths in mm";
        bytes[..head.len()].copy_from_slice(head);
        bytes.extend((self.triangles.len() as u32).to_le_bytes());
        for triangle in &self.triangles {
            let corners = triangle.map(|corner| self.places[corner as usize]);
            for value in normal(corners).iter().chain(corners.iter().flatten()) {
                bytes.extend(value.to_le_bytes());
            }
            bytes.extend([0, 0]);
        }
        bytes
    }

    /// 3MF, core specification 1.
    ///
    /// # Errors
    /// None in practice: the archive is written to memory.
    pub fn three_mf(&self) -> std::io::Result<Vec<u8>> {
        let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default();
        for (name, text) in [
            ("[Content_Types].xml", CONTENT_TYPES.to_owned()),
            ("_rels/.rels", RELATIONS.to_owned()),
            ("3D/3dmodel.model", self.model()),
        ] {
            archive.start_file(name, options)?;
            archive.write_all(text.as_bytes())?;
        }
        Ok(archive.finish()?.into_inner())
    }

    fn model(&self) -> String {
        let mut text = String::with_capacity(60 * (self.places.len() + self.triangles.len()));
        text.push_str(MODEL_HEAD);
        // Writing to a string cannot fail.
        for [x, y, z] in &self.places {
            let _ = writeln!(text, r#"<vertex x="{x:.4}" y="{y:.4}" z="{z:.4}"/>"#);
        }
        text.push_str("</vertices>\n<triangles>\n");
        for [a, b, c] in &self.triangles {
            let _ = writeln!(text, r#"<triangle v1="{a}" v2="{b}" v3="{c}"/>"#);
        }
        text.push_str(MODEL_FOOT);
        text
    }
}

/// Outward direction of length one.
fn normal([a, b, c]: [[f32; 3]; 3]) -> [f32; 3] {
    let (u, v) = ([0, 1, 2].map(|i| b[i] - a[i]), [0, 1, 2].map(|i| c[i] - a[i]));
    let n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let long = n.iter().map(|value| value * value).sum::<f32>().sqrt();
    if long > 0.0 { n.map(|value| value / long) } else { [0.0; 3] }
}

/// The fixed parts of a 3MF file (3MF Consortium, core specification 1.3, from memory).
const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"#;
const RELATIONS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="r0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"#;
const MODEL_HEAD: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
<resources>
<object id="1" type="model">
<mesh>
<vertices>
"#;
const MODEL_FOOT: &str = r#"</triangles>
</mesh>
</object>
</resources>
<build><item objectid="1"/></build>
</model>
"#;

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::f64::consts::PI;

    use super::*;

    /// A cone frustum of 64 sides between the radii 20 and 10, 30 long.
    fn frustum() -> Solid {
        let grid = Grid { from_s_mm: 5.0, step_mm: 3.0, stations: 11, rows: 64 };
        let radii: Vec<f32> = (0..11).map(|column| 20.0 - column as f32).collect();
        Solid::of(grid, &vec![radii; 64])
    }

    #[test]
    fn a_solid_is_closed_and_turned_outwards() {
        let solid = frustum();
        let mut edges: BTreeMap<[u32; 2], i32> = BTreeMap::new();
        for [a, b, c] in solid.triangles.iter().copied() {
            for [from, to] in [[a, b], [b, c], [c, a]] {
                *edges.entry([from.min(to), from.max(to)]).or_default() += if from < to { 1 } else { -1 };
            }
        }
        assert!(edges.values().all(|&sum| sum == 0), "every edge is run once each way");
        // Euler: places - edges + faces = 2 for a ball.
        assert_eq!(solid.places.len() as i64 - edges.len() as i64 + solid.triangles.len() as i64, 2);
        // Volume by the divergence theorem, against the frustum over a regular polygon of 64 sides.
        let volume: f64 = solid
            .triangles
            .iter()
            .map(|triangle| {
                let [a, b, c] = triangle.map(|corner| solid.places[corner as usize].map(f64::from));
                (a[0] * (b[1] * c[2] - b[2] * c[1])
                    + a[1] * (b[2] * c[0] - b[0] * c[2])
                    + a[2] * (b[0] * c[1] - b[1] * c[0]))
                    / 6.0
            })
            .sum();
        let polygon = 32.0 * (2.0 * PI / 64.0).sin();
        let exact = polygon * 30.0 / 3.0 * (20.0 * 20.0 + 20.0 * 10.0 + 10.0 * 10.0);
        assert!((volume - exact).abs() < 1e-4 * exact, "{volume} not {exact}");
    }

    #[test]
    fn files_have_the_size_and_the_names_their_formats_ask_for() {
        let solid = frustum();
        assert_eq!(solid.stl().len(), 84 + 50 * solid.triangles.len());
        let mut archive = zip::ZipArchive::new(Cursor::new(solid.three_mf().unwrap())).unwrap();
        let mut model = String::new();
        std::io::Read::read_to_string(&mut archive.by_name("3D/3dmodel.model").unwrap(), &mut model).unwrap();
        assert!(model.contains(r#"unit="millimeter""#));
        assert_eq!(model.matches("<triangle ").count(), solid.triangles.len());
        assert_eq!(solid.three_mf().unwrap(), solid.three_mf().unwrap());
    }
}
