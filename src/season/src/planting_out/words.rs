//! The verdict in words, and the chain behind it.

use agronomy::climate::Cover;
use chrono::NaiveDate;

use super::cold::Cold;
use super::{Ground, SpaceVerdict, State};
use crate::forecast::Window;
use crate::state::Space;
use crate::why::Reason;
use crate::words::{Arg, Say};

fn share(chance: agronomy::quantity::Chance) -> Arg {
    Arg::Share(chance.get())
}

/// The verdict in one sentence.
pub(super) fn sentence(
    verdict: &SpaceVerdict,
    space: &Space,
    grown: NaiveDate,
    cold: Option<&Cold>,
) -> Say {
    let say = |key| Say::new(key).with("space", space.name.as_str());
    let chance = verdict.chance_of_harm.map(share);
    match verdict.state {
        State::Safe => say("planting_out.safe").with_some("chance", chance),
        State::WithCover { until } => say("planting_out.with_cover")
            .with_some("chance", chance)
            .with_some("night", cold.map(|cold| Arg::Temperature(cold.outdoors_c)))
            .with("until", until),
        State::Wait { until } if until == grown => say("planting_out.wait").with("until", until),
        State::Wait { until } if until == verdict.hardening.over => {
            say("planting_out.wait_hardening")
                .with("until", until)
                .with("done", verdict.hardening.done)
                .with("wanted", verdict.hardening.wanted)
        }
        State::Wait { until } => say("planting_out.wait_cold")
            .with("until", until)
            .with_some("chance", chance)
            .with("accepted", share(verdict.accepted)),
        State::Late { bloom } => say("planting_out.late").with_some("bloom", bloom),
        State::Unknown => say("planting_out.unknown"),
    }
}

/// Why: what the crop bears, what cold may come, what is accepted, what the plan says.
pub(super) fn reasons(
    ground: &Ground<'_>,
    verdict: &SpaceVerdict,
    cold: Option<&Cold>,
    window: Option<(Window, Vec<Reason>)>,
) -> Vec<Reason> {
    let mut why = Vec::new();
    let cover = ground.almanac.cover(Some(ground.space));
    if let Some(bears) = ground.crop.figure("min_safe_night_c_hardened_plants") {
        let key = if bears.typical > 0.0 {
            "why.frost_kills"
        } else {
            "why.bears"
        };
        why.push(Reason::figure(key, bears, Arg::Temperature(bears.typical)));
    }
    if cover == Cover::Tunnel {
        why.push(Reason::assumed(
            Say::new("why.tunnel_night").with("n", cover.night_gain()),
        ));
    }
    if let Some(cold) = cold {
        let key = if cold.autumn {
            "why.harm_autumn"
        } else {
            "why.harm_spring"
        };
        why.push(Reason::forecast(
            Say::new(key)
                .with("night", Arg::Temperature(cold.outdoors_c))
                .with("chance", share(cold.chance)),
        ));
    }
    let accepted = Say::new(if verdict.accepted_said {
        "why.risk_accepted"
    } else {
        "why.risk_usual"
    })
    .with("n", share(verdict.accepted));
    why.push(if verdict.accepted_said {
        Reason::measured(accepted)
    } else {
        Reason::assumed(accepted)
    });
    let soft = verdict.hardening;
    if !soft.is_over() {
        why.push(Reason::measured(
            Say::new("why.soft")
                .with("done", soft.done)
                .with("wanted", soft.wanted)
                .with("n", super::SOFT_MARGIN),
        ));
    }
    let Some((window, of_plan)) = window else {
        return why;
    };
    why.extend(of_plan);
    why.push(Reason::forecast(
        Say::new("why.plan_window")
            .with("from", window.earliest)
            .with("best", window.best)
            .with("to", window.latest),
    ));
    // Where nights ask for more patience than the plan, that is said.
    let later = match verdict.state {
        State::Wait { until } => {
            until > window.earliest && cold.and_then(|c| c.until) == Some(until)
        }
        State::WithCover { .. } => true,
        _ => false,
    };
    if later {
        why.push(Reason::forecast(Say::new("why.nights_after_plan")));
    }
    why
}
