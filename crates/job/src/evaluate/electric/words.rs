//! The pack's figures in words, the same on screen, on paper and on the command line.

use super::Electric;

/// Energy, volts under load, power, heat and charging, a line each; a line that begins with `!` is a caution.
pub fn figures_in_words(electric: &Electric) -> Vec<String> {
    let mut lines = Vec::new();
    let energy = &electric.energy;
    let [low, high] = energy.used.map(|share| share * 100.0);
    let by = if energy.measured {
        "by the measured units"
    } else {
        "state of health"
    };
    lines.push(format!(
        "usable {:.2} kWh: {:.2} sticker, {:.2} worn ({:.0} % {by}), used {low:.0} to {high:.0} %",
        energy.usable_kwh,
        energy.sticker_kwh,
        energy.worn_kwh,
        energy.health * 100.0
    ));
    let resistances = &electric.resistances;
    let measured = if resistances.measured { " measured" } else { "" };
    match (resistances.modules, resistances.total) {
        (Some(modules), Some(_)) if electric.wiring.is_none() => lines.push(format!(
            "! resists {:.1} mohm{measured} in its modules; links and leads are in no figure until as many modules are placed as \
             its strings take",
            modules.milliohms()
        )),
        (Some(modules), Some(total)) => lines.push(format!(
            "resists {:.1} mohm: modules {:.1}{measured}, links {:.1}, leads {:.1}",
            total.milliohms(),
            modules.milliohms(),
            resistances.links.milliohms(),
            resistances.leads.milliohms()
        )),
        _ => lines.push("volts under load are not known: enter the modules' resistance (Modules page)".to_owned()),
    }
    if let Some(load) = &electric.load {
        under_load(load, &mut lines);
    }
    if let Some(charging) = &electric.charging {
        lines.push(format!(
            "charging {low:.0} to {high:.0} %: {:.1} h at {:.1} kW from the line, {:.1} A ({} holds it back; the slow end not counted)",
            charging.hours, charging.line_kw, charging.amps, charging.held_by
        ));
    }
    lines
}

fn under_load(load: &super::Load, lines: &mut Vec<String>) {
    for row in &load.rows {
        let at = |name: &str, loaded: Option<super::Loaded>| {
            loaded.map(|l| format!("{} V at {name} {:.0} A", l.volts.shown(1), l.amps))
        };
        let parts: Vec<String> = [at("continuous", row.continuous), at("peak", row.peak)]
            .into_iter()
            .flatten()
            .collect();
        if !parts.is_empty() {
            let mark = if row.cuts_out { "! " } else { "" };
            let out = if row.cuts_out {
                ": under the drive's least, it cuts out"
            } else {
                ""
            };
            lines.push(format!(
                "{mark}{} {} V at rest, {}{out}",
                row.name,
                row.rest.shown(1),
                parts.join(", ")
            ));
        }
    }
    let most: Vec<String> = ["half full", "empty", "cold"]
        .iter()
        .zip(&load.most)
        .filter_map(|(name, most)| {
            most.as_ref()
                .map(|m| format!("{name} {:.0} kW ({})", m.at.power_w / 1000.0, m.limit.name()))
        })
        .collect();
    if !most.is_empty() {
        lines.push(format!("most power: {}", most.join(", ")));
    }
    if let Some(cruise) = &load.cruise {
        let rise = load.warmth.hour_k[0].map_or(String::new(), |k| {
            format!(", modules warm up to {k:.1} K an hour (specific heat typical)")
        });
        lines.push(format!(
            "cruising at {:.0} kW: {:.0} A, {:.1} % efficient, {:.2} C{rise}",
            cruise.kw,
            cruise.at.amps,
            cruise.at.efficiency * 100.0,
            cruise.c_rate
        ));
    }
    if let Some(k) = load.warmth.hour_k[1] {
        let minute = load
            .warmth
            .peak_minute_k
            .map_or(String::new(), |k| format!("; a minute at the peak {k:.1} K"));
        lines.push(format!(
            "an hour at the continuous amps warms modules by up to {k:.0} K, no heat leaving them{minute}"
        ));
    }
    let Some([charged, full]) = load.regen else {
        lines.push("what it may take back is not known: enter the modules' charge amps".to_owned());
        return;
    };
    lines.push(format!(
        "may take back {:.0} A, {:.1} kW as far as it is charged; full {:.0} A",
        charged.amps,
        charged.power_w / 1000.0,
        full.amps
    ));
}
