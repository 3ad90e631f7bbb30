//! Light on a scene, the effect of a dome, and the response of a phone's camera.

use crate::draw::Draw;
use crate::grain::{grain, speck};
use crate::plant::Colour;

/// Light and camera.
#[derive(Clone, Copy)]
pub struct Light {
    /// Colour and strength of the lamp; 1 is daylight.
    pub lamp: Colour,
    /// Change of the light from one end of the picture to the other.
    pub gradient: f64,
    /// Light remaining in the photographer's shadow; 1 without a shadow.
    pub shadow: f64,
    /// Radius of blur, as a standard deviation in pixels.
    pub blur: f64,
    /// Standard deviation of the noise at mid grey, out of 255.
    pub noise: f64,
    /// Quality of the compression, 1 to 100.
    pub quality: f64,
    /// Reflections on a dome, and density of its haze, 0 to 1.
    pub glare: (usize, f64),
    /// Share of the dome with drops.
    pub drops: f64,
}

/// The picture in the given light, as bytes of red, green, blue and opacity.
pub fn expose(
    draw: &mut Draw,
    light: &Light,
    size: (usize, usize),
    colours: &mut [Colour],
) -> Vec<u8> {
    let (wide, high) = (size.0 as f64, size.1 as f64);
    let turn = draw.between(0.0, 360.0).to_radians();
    let (across, down) = (libm::cos(turn), libm::sin(turn));
    let edge = draw.between(-0.2, 0.2);
    let spots: Vec<[f64; 6]> = (0..light.glare.0)
        .map(|_| {
            let turn = draw.between(0.0, 180.0).to_radians();
            [
                draw.between(0.1, 0.9) * wide,
                draw.between(0.1, 0.9) * high,
                draw.between(0.08, 0.25) * wide,
                draw.between(0.02, 0.06) * wide,
                libm::cos(turn),
                libm::sin(turn),
            ]
        })
        .collect();
    let seed = (draw.share() * 1e15) as u64;
    for (pixel, colour) in colours.iter_mut().enumerate() {
        let (x, y) = ((pixel % size.0) as f64, (pixel / size.0) as f64);
        let along = (x / wide - 0.5) * across + (y / high - 0.5) * down;
        let soft = ((along - edge) * 12.0 + 0.5).clamp(0.0, 1.0);
        let lit = (1.0 + light.gradient * along) * (light.shadow + (1.0 - light.shadow) * soft);
        let mut seen = [0, 1, 2].map(|n| colour[n] * light.lamp[n] * lit);
        let mut veil = light.glare.1 * (0.6 + 0.8 * grain(x, y, 0.3 * wide, seed));
        for [left, top, long, short, cos, sin] in &spots {
            let (dx, dy) = (x - left, y - top);
            let (u, v) = ((dx * cos + dy * sin) / long, (dy * cos - dx * sin) / short);
            veil += 1.2 * libm::exp(-(u * u + v * v));
        }
        if light.drops > 0.0 && speck(x, y, 0.012 * wide, light.drops, seed ^ 1) < 1.0 {
            veil += 0.35;
        }
        let veil = veil.min(1.0);
        for (seen, lamp) in seen.iter_mut().zip(light.lamp) {
            *seen += (250.0 * lamp.max(0.4) - *seen) * veil;
        }
        *colour = seen;
    }
    blur(colours, size, light.blur);
    for colour in colours.iter_mut() {
        for v in colour.iter_mut() {
            // Half of the noise grows with the light, half is the sensor's.
            let sd = light.noise * (0.5 + 0.5 * (v.max(0.0) / 128.0).sqrt());
            *v = (*v + draw.normal() * sd).clamp(0.0, 255.0);
        }
    }
    crate::jpeg::compress(colours, size, light.quality);
    let byte = |v: f64| v.round().clamp(0.0, 255.0) as u8;
    colours
        .iter()
        .flat_map(|colour| [byte(colour[0]), byte(colour[1]), byte(colour[2]), 255])
        .collect()
}

/// Blurs like an unfocused lens, with a Gaussian of the given standard deviation.
fn blur(colours: &mut [Colour], (width, height): (usize, usize), sd: f64) {
    let reach = (3.0 * sd).ceil() as usize;
    let weights: Vec<f64> = (0..=reach)
        .map(|n| libm::exp(-((n * n) as f64) / (2.0 * sd * sd)))
        .collect();
    let all = weights[0] + 2.0 * weights[1..].iter().sum::<f64>();
    let mut line = Vec::new();
    let mut along = |start: usize, step: usize, many: usize, colours: &mut [Colour]| {
        line.clear();
        line.extend((0..many).map(|n| colours[start + n * step]));
        for n in 0..many {
            let mut sum = line[n].map(|v| v * weights[0]);
            for (far, weight) in weights.iter().enumerate().skip(1) {
                let (before, after) = (line[n.saturating_sub(far)], line[(n + far).min(many - 1)]);
                for (channel, sum) in sum.iter_mut().enumerate() {
                    *sum += weight * (before[channel] + after[channel]);
                }
            }
            colours[start + n * step] = sum.map(|v| v / all);
        }
    };
    for row in 0..height {
        along(row * width, 1, width, colours);
    }
    for column in 0..width {
        along(column, width, height, colours);
    }
}
