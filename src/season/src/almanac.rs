//! What a season's forecasts look things up in: crops as this grower has them, and the climate of the place with the days that
//! were measured.

use std::collections::BTreeMap;
use std::sync::Arc;

use agronomy::climate::{Climate, Cover, Normals};
use agronomy::error::AgronomyError;
use agronomy::frost::{self, FrostDates, FrostModel, FrostTiming};
use agronomy::quantity::{Celsius, Latitude};
use chrono::NaiveDate;
use culture::{Crop, Reference};

use crate::example_climates::ExampleClimate;
use crate::fact::{Role, SpaceKind, Tray};
use crate::ids::*;
use crate::month_day::MonthDay;
use crate::past_trays::{PastTray, past_trays};
use crate::state::{Bed, Place, Season, Sowing, Space, Variety};

/// Standard deviation of frost dates that is taken where only the average date is known, days. Common practice: stations mostly
/// lie between 8 and 14.
const FROST_DEVIATION_DAYS: f64 = 11.0;

/// Why there is no climate to reckon with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClimateGap {
    /// No place.
    NoPlace,
    /// No latitude.
    NoLatitude,
    /// No frost dates.
    NoFrostDates,
    /// Figures that make no sense together.
    Odd,
}

/// What takes time to prepare for a season: crops with this grower's figures, and the climate of every day. Good for one state
/// of a season; made once and shared while that state lasts.
#[derive(Debug)]
pub struct Groundwork {
    crops: BTreeMap<VarietyId, Crop>,
    past: BTreeMap<String, Vec<PastTray>>,
    /// The trays that each crop was last sown into.
    trays: BTreeMap<String, Tray>,
    climate: Result<Climate, ClimateGap>,
    /// Whether the monthly normals are an example's.
    normals_assumed: bool,
}

impl Groundwork {
    /// Prepares a season. Overrides that make no sense are passed over: the reference's figure stands.
    pub fn of(season: &Season, reference: &Reference) -> Self {
        let mut crops = BTreeMap::new();
        for variety in season.varieties.values() {
            let Some(crop) = reference.crop(&variety.crop) else {
                continue;
            };
            // What the grower set stands above what records gave, and that above the reference.
            let learned = variety.learned.iter();
            let learned = learned.map(|(name, learned)| (name.clone(), learned.value));
            let mut figures = season.crops.get(&variety.crop).cloned().unwrap_or_default();
            figures.extend(
                variety
                    .figures
                    .iter()
                    .map(|(name, value)| (name.clone(), *value)),
            );
            let crop = crop
                .with_learned(&learned.collect())
                .unwrap_or_else(|_| crop.clone());
            let crop = crop.with_overrides(&figures).unwrap_or(crop);
            crops.insert(variety.id.clone(), crop);
        }
        let (climate, normals_assumed) = match climate_of(season) {
            Ok((climate, assumed)) => (Ok(climate), assumed),
            Err(gap) => (Err(gap), false),
        };
        Self {
            past: past_trays(season, &crops),
            trays: last_trays(season),
            crops,
            climate,
            normals_assumed,
        }
    }
}

/// Crops, climate and spaces of a season, ready for looking up.
#[derive(Debug, Clone)]
pub struct Almanac<'a> {
    season: &'a Season,
    reference: &'a Reference,
    ground: Arc<Groundwork>,
}

impl<'a> Almanac<'a> {
    /// Prepares a season for looking up.
    pub fn new(season: &'a Season, reference: &'a Reference) -> Self {
        Self::on(
            season,
            reference,
            Arc::new(Groundwork::of(season, reference)),
        )
    }

    /// The same on groundwork that was laid for this very season.
    pub fn on(season: &'a Season, reference: &'a Reference, ground: Arc<Groundwork>) -> Self {
        Self {
            season,
            reference,
            ground,
        }
    }

    /// The season.
    pub fn season(&self) -> &'a Season {
        self.season
    }

    /// The crop reference.
    pub fn reference(&self) -> &'a Reference {
        self.reference
    }

    /// A variety's crop with this grower's figures.
    pub fn crop(&self, variety: &VarietyId) -> Option<&Crop> {
        self.ground.crops.get(variety)
    }

    /// This grower's earlier trays of a crop.
    pub fn past_trays(&self, crop: &str) -> &[PastTray] {
        self.ground.past.get(crop).map_or(&[], Vec::as_slice)
    }

    /// The tray that a variety's crop was last sown into.
    pub fn last_tray(&self, variety: &VarietyId) -> Option<Tray> {
        self.ground.trays.get(&self.variety(variety)?.crop).copied()
    }

    /// A variety.
    pub fn variety(&self, id: &VarietyId) -> Option<&'a Variety> {
        self.season.varieties.get(id)
    }

    /// Seasons of own records behind a variety's yield; 0 where nothing was learned of it.
    pub fn years_learned(&self, id: &VarietyId) -> u32 {
        let learned = |variety: &'a Variety| variety.learned.get("stems_per_plant_season");
        self.variety(id)
            .and_then(learned)
            .map_or(0, |learned| learned.seasons)
    }

    /// A variety's name, with its crop's name where it has none of its own.
    pub fn variety_name(&self, id: &VarietyId) -> String {
        match (self.variety(id), self.crop(id)) {
            (Some(variety), _) if !variety.name.is_empty() => variety.name.clone(),
            (_, Some(crop)) => crop.name().to_owned(),
            _ => crate::words::text("variety.unknown").to_owned(),
        }
    }

    /// A variety's role: its own, or its crop's first.
    pub fn role(&self, id: &VarietyId) -> Option<Role> {
        self.variety(id)
            .and_then(|variety| variety.role)
            .or_else(|| {
                self.crop(id)?
                    .roles()
                    .first()
                    .and_then(|role| Role::of_word(role.word()))
            })
    }

    /// The place's climate.
    pub fn climate(&self) -> Result<&Climate, ClimateGap> {
        self.ground.climate.as_ref().map_err(|gap| *gap)
    }

    /// Whether the monthly normals are an example's, not the grower's.
    pub fn normals_assumed(&self) -> bool {
        self.ground.normals_assumed
    }

    /// A space.
    pub fn space(&self, id: &SpaceId) -> Option<&'a Space> {
        self.season.spaces.get(id)
    }

    /// A bed.
    pub fn bed(&self, id: &BedId) -> Option<&'a Bed> {
        self.season.beds.get(id)
    }

    /// The space that holds a bed.
    pub fn space_of_bed(&self, bed: &BedId) -> Option<&'a Space> {
        self.space(self.bed(bed)?.space.as_ref()?)
    }

    /// What plants have over them in a space.
    pub fn cover(&self, space: Option<&Space>) -> Cover {
        match space.map(|s| s.what) {
            Some(SpaceKind::Tunnel) => Cover::Tunnel,
            _ => Cover::Open,
        }
    }

    /// The space that a sowing's plants are meant for: as said, else the first outdoor space, else the first tunnel.
    pub fn space_or_usual(&self, said: Option<&SpaceId>) -> Option<&'a Space> {
        if let Some(space) = said.and_then(|id| self.space(id)) {
            return Some(space);
        }
        let spaces = self.season.spaces_in_order();
        let first = |what| spaces.iter().find(|s| s.what == what).copied();
        first(SpaceKind::Outdoors).or_else(|| first(SpaceKind::Tunnel))
    }

    /// The average last spring frost nearest to a date.
    pub fn last_frost_near(&self, date: NaiveDate) -> Option<NaiveDate> {
        use chrono::Datelike;
        let frost = self.season.place()?.last_frost?;
        (-1..=1)
            .filter_map(|shift| frost.in_year(date.year() + shift))
            .min_by_key(|last| (*last - date).num_days().abs())
    }
}

fn last_trays(season: &Season) -> BTreeMap<String, Tray> {
    let mut sowings: Vec<&Sowing> = season.sowings.values().collect();
    sowings.sort_by_key(|sowing| (sowing.date, &sowing.id));
    sowings
        .into_iter()
        .filter_map(|sowing| {
            let crop = &season.varieties.get(&sowing.variety)?.crop;
            Some((crop.clone(), sowing.tray_on(sowing.date)?))
        })
        .collect()
}

fn climate_of(season: &Season) -> Result<(Climate, bool), ClimateGap> {
    let place = season.place().ok_or(ClimateGap::NoPlace)?;
    let degrees = place.latitude.ok_or(ClimateGap::NoLatitude)?;
    let latitude = Latitude::new(degrees).map_err(|_| ClimateGap::Odd)?;
    let frost = frost_model(place)?;
    let (tmin, tmax, assumed) = match (place.tmin, place.tmax) {
        (Some(tmin), Some(tmax)) => (tmin, tmax, ExampleClimate::is_one(&tmin, &tmax)),
        _ => {
            let (tmin, tmax) = ExampleClimate::nearest(degrees).normals_at(degrees);
            (tmin, tmax, true)
        }
    };
    let normals =
        Normals::new(tmin.map(Celsius), tmax.map(Celsius)).map_err(|_| ClimateGap::Odd)?;
    let mut climate = Climate::with_frost(latitude, normals, frost).map_err(|_| ClimateGap::Odd)?;
    for (date, measured) in &season.temperatures {
        for day in measured {
            let cover = match day
                .space
                .as_ref()
                .and_then(|id| season.spaces.get(id))
                .map(|s| s.what)
            {
                None | Some(SpaceKind::Outdoors) => Cover::Open,
                Some(SpaceKind::Tunnel) => Cover::Tunnel,
                // A shelf's or a cooler's temperature says nothing of the weather.
                Some(_) => continue,
            };
            // An odd reading is passed over; it was objected to when it was typed.
            if let Ok(with) =
                climate
                    .clone()
                    .with_observed(*date, cover, Celsius(day.min_c), Celsius(day.max_c))
            {
                climate = with;
            }
        }
    }
    Ok((climate, assumed))
}

/// The dates of frost as chances. A one-in-ten date that is not known is taken as far off the average as is usual; where the third
/// date of a side is not known, that side is as wide before the average as after it.
fn frost_model(place: &Place) -> Result<FrostModel, ClimateGap> {
    let (Some(last), Some(first)) = (place.last_frost, place.first_frost) else {
        return Err(ClimateGap::NoFrostDates);
    };
    let two = two_dates_each(place, last, first).map_err(|_| ClimateGap::Odd)?;
    let mut model = two.model().map_err(|_| ClimateGap::Odd)?;
    if let Some(early) = place.last_frost_90.map(in_common_year) {
        model.last = FrostTiming::from_dates(early, two.last_p50, two.last_p10)
            .map_err(|_| ClimateGap::Odd)?;
    }
    if let Some(late) = place.first_frost_90.map(in_common_year) {
        model.first = FrostTiming::from_dates(two.first_p10, two.first_p50, late)
            .map_err(|_| ClimateGap::Odd)?;
    }
    Ok(model)
}

fn two_dates_each(
    place: &Place,
    last: MonthDay,
    first: MonthDay,
) -> Result<FrostDates, AgronomyError> {
    let usual = FrostDates::from_deviation(
        in_common_year(last),
        FROST_DEVIATION_DAYS,
        in_common_year(first),
        FROST_DEVIATION_DAYS,
    )?;
    Ok(FrostDates {
        last_p10: place.last_frost_10.map_or(usual.last_p10, in_common_year),
        first_p10: place.first_frost_10.map_or(usual.first_p10, in_common_year),
        ..usual
    })
}

/// A frost's day as the climate takes it, which is of common years.
pub(crate) fn in_common_year(day: MonthDay) -> frost::MonthDay {
    match (day.month(), day.day()) {
        (2, 29) => (2, 28),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use agronomy::quantity::Chance;

    use super::*;
    use crate::fact::PlaceFact;
    use crate::sample::Sample;

    /// The frosts of a place of average dates 15 May and 1 October, with the third date of each side as told.
    fn frost(last_90: Option<&str>, first_90: Option<&str>) -> Result<FrostModel, ClimateGap> {
        let day = |text: &str| Some(text.parse().unwrap());
        let mut sample = Sample::new();
        sample.add(PlaceFact {
            last_frost_10: day("05-29"),
            last_frost_90: last_90.and_then(day),
            first_frost_10: day("09-18"),
            first_frost_90: first_90.and_then(day),
            ..PlaceFact::new(PlaceId::new("place").unwrap())
        });
        sample.with(|almanac| almanac.climate().map(|climate| *climate.frost()))
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn three_dates_of_frost_are_all_met() {
        let model = frost(Some("05-06"), Some("10-25")).unwrap();
        let by = |chance| {
            (
                model.last.date_by(2027, chance),
                model.first.date_by(2027, chance),
            )
        };
        assert_eq!(
            by(Chance::ONE_IN_TEN),
            (day("2027-05-06"), day("2027-09-18"))
        );
        assert_eq!(by(Chance::EVEN), (day("2027-05-15"), day("2027-10-01")));
        assert_eq!(
            by(Chance::NINE_IN_TEN),
            (day("2027-05-29"), day("2027-10-25"))
        );
    }

    #[test]
    fn two_dates_of_frost_are_as_wide_on_either_side() {
        let model = frost(None, None).unwrap();
        assert_eq!(
            model.last.date_by(2027, Chance::ONE_IN_TEN),
            day("2027-05-01")
        );
        assert_eq!(
            model.first.date_by(2027, Chance::NINE_IN_TEN),
            day("2027-10-14")
        );
        // The third date of one side says nothing of the other.
        let spring = frost(Some("05-06"), None).unwrap();
        assert_eq!(spring.first, model.first);
        assert_eq!(
            spring.last.date_by(2027, Chance::NINE_IN_TEN),
            model.last.date_by(2027, Chance::NINE_IN_TEN)
        );
    }

    #[test]
    fn dates_out_of_order_give_no_climate_and_leap_days_do() {
        assert_eq!(frost(Some("05-20"), None).unwrap_err(), ClimateGap::Odd);
        assert_eq!(frost(None, Some("09-25")).unwrap_err(), ClimateGap::Odd);
        let leap = MonthDay::new(2, 29).unwrap();
        assert_eq!(in_common_year(leap), (2, 28));
    }
}
