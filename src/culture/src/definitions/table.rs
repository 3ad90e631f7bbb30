//! The table of all figures, by name.

use super::Definition;

/// A row of the table: name, unit, minimum and maximum, meaning.
macro_rules! table {
    ($($name:literal, $unit:literal, $low:literal, $high:literal, $doc:literal;)*) => {
        &[$(Definition { name: $name, unit: $unit, low: $low, high: $high, doc: $doc }),*]
    };
}

/// All figures in alphabetical order, as the binary search in [`super::definition`] requires. The limits are
/// common sense, without a source.
#[rustfmt::skip]
pub(super) static TABLE: &[Definition] = table! {
    "base_temp_c", "C", -5.0, 15.0, "Temperature below which it does not advance.";
    "best_growth_c", "C", 0.0, 35.0, "Temperature it grows best at, day and night together.";
    "best_growth_night_c", "C", -2.0, 30.0, "Nights for the best plants in the bed.";
    "bloom_ceiling_c", "C", 0.0, 40.0, "Temperature above which more warmth no longer hastens bloom.";
    "bud_cold_days", "days", 0.0, 120.0, "Cool days (10 to 13 C) it needs to set buds.";
    "bud_delay_above_mean_c", "C", 0.0, 40.0, "Daily mean above which bud set is late.";
    "bulb_cold_weeks", "weeks", 0.0, 40.0, "Weeks of cold (near 9 C or less) a bulb needs.";
    "bunch_size", "stems", 1.0, 100.0, "Stems in a straight bunch.";
    "chill_days", "days", 0.0, 200.0, "Moist chill of the seed before it comes up.";
    "chill_injury_below_c", "C", 0.0, 15.0, "Cooler below which cut stems take harm; only for crops that bear no cold.";
    "cold_storage_c", "C", -2.0, 30.0, "Temperature it is stored at, cut.";
    "cold_storage_max_days", "days", 0.0, 100.0, "How long it keeps there.";
    "cool_days_needed", "days", 0.0, 200.0, "Cool days (below 16 C) it needs to bloom on.";
    "cover_below_c", "C", -30.0, 15.0, "Outside temperature below which it is covered, in a tunnel.";
    "cut_back_rebloom_days", "days", 5.0, 120.0, "From cutting the whole plant back to new bloom.";
    "cut_every_days", "days", 0.25, 14.0, "From one cut to the next while it blooms.";
    "daily_light_mol", "mol per m2", 0.5, 60.0, "Light of a day (DLI) for young plants under lamps.";
    "daylength_full_h", "h", 6.0, 24.0, "Hours of light at which it comes to bloom quickest.";
    "daylength_least_h", "h", 6.0, 24.0, "Hours of light from which on it is slowest; a short-day crop's lie above its full hours.";
    "daylength_slowdown", "times", 1.0, 5.0, "How many times as long it then takes; absent where it does not bloom there at all.";
    "days_autumn_sowing_to_first_bloom", "days", 20.0, 400.0, "Sown in place in autumn, across a winter.";
    "days_biennial_sowing_to_first_bloom", "days", 100.0, 800.0, "Biennial strains, sown in summer.";
    "days_forcing_5_degree_bulbs", "days", 5.0, 200.0, "Planted in greenhouse soil after cold near 5 C.";
    "days_forcing_after_cooling", "days", 5.0, 200.0, "From the end of cold in trays to bloom, warm.";
    "days_november_planting_to_first_harvest_tunnel", "days", 20.0, 400.0, "Sprouted, planted in November in a tunnel with inner covers.";
    "days_planting_to_bloom_asiatic", "days", 20.0, 400.0, "Asiatic lilies, greenhouse.";
    "days_planting_to_bloom_oriental", "days", 20.0, 400.0, "Oriental lilies, greenhouse.";
    "days_sowing_to_first_bloom", "days", 5.0, 800.0, "From sowing, in trays or in place.";
    "days_sowing_to_first_bloom_cool", "days", 5.0, 800.0, "From sowing in late winter under cover.";
    "days_spring_transplant_to_first_bloom_tunnel", "days", 5.0, 800.0, "From planting in mid April in a tunnel, zone 5.";
    "days_to_emergence_first_typ_most", "days", 1.0, 400.0, "From sowing: first seedling, half of them, most of them.";
    "days_transplant_to_first_bloom_cool", "days", 5.0, 800.0, "From the crop's own basis, mean near 12 C.";
    "days_transplant_to_first_bloom_warm", "days", 5.0, 800.0, "From the crop's own basis, mean near 20 C.";
    "days_transplant_to_first_bloom_winter", "days", 5.0, 800.0, "From planting in late autumn or winter under glass.";
    "dome_off_share", "share", 0.0, 1.0, "Share up when the dome comes off.";
    "doubles_pct", "percent", 0.0, 100.0, "Plants with double flowers.";
    "ethylene_harm", "1", 0.0, 3.0, "Harm that ethylene does to cut stems: 0 none, 1 low, 2 moderate, 3 high.";
    "flush_interval_days", "days", 5.0, 120.0, "From one flush to the next.";
    "flushes", "flushes", 1.0, 10.0, "Number of flushes.";
    "germination_max_c", "C", 0.0, 40.0, "Warmest it comes up at.";
    "germination_min_c", "C", 0.0, 40.0, "Coolest it comes up at.";
    "germination_pct", "percent", 1.0, 100.0, "Seeds that give a seedling.";
    "germination_soil_temp_c", "C", 0.0, 40.0, "Best temperature at the seed.";
    "group_1_factor", "times", 0.4, 2.0, "Share of the usual way to bloom that bloom group 1 needs; 1 is the average line.";
    "group_2_factor", "times", 0.4, 2.0, "The same for bloom group 2.";
    "group_3_factor", "times", 0.4, 2.0, "The same for bloom group 3.";
    "group_4_factor", "times", 0.4, 2.0, "The same for bloom group 4.";
    "growon_day_c", "C", 0.0, 40.0, "Growing on in the tray, day.";
    "growon_night_c", "C", -2.0, 30.0, "Growing on in the tray, night.";
    "growth_poor_below_c", "C", -5.0, 25.0, "Temperature below which it grows poorly.";
    "hardening_off_days", "days", 0.0, 30.0, "Hardening off.";
    "harvest_window_autumn_planted_days", "days", 1.0, 250.0, "How long an autumn planting under cover is cut.";
    "harvest_window_days", "days", 1.0, 200.0, "How long one flush is cut.";
    "heat_injury_above_c", "C", 15.0, 50.0, "Temperature that harms it.";
    "marketable_field", "share", 0.0, 1.0, "Share of stems that sell, outdoors.";
    "marketable_tunnel", "share", 0.0, 1.0, "Share of stems that sell, tunnel.";
    "mat_off_share", "share", 0.0, 1.0, "Share up when the mat goes off.";
    "min_night_at_planting_c", "C", -10.0, 25.0, "Nights wanted before planting out.";
    "min_safe_night_c_hardened_plants", "C", -30.0, 15.0, "Night that hardened plants bear.";
    "min_soil_temp_at_planting_c", "C", 0.0, 25.0, "Soil temperature wanted before planting out.";
    "november_planting_advance_days", "days", 0.0, 120.0, "Peak cut of a November planting ahead of a spring one, tunnel.";
    "outdoor_planting_weeks_vs_last_frost", "weeks", -45.0, 20.0, "Planting outdoors, counted from the average last frost.";
    "overwintered_advance_days", "days", 0.0, 120.0, "Bloom of plants kept over winter ahead of spring transplants, tunnel.";
    "own_bloom_factor", "times", 0.4, 2.0, "Share of the usual way to bloom that it needs in this grower's own years, beside its bloom group's.";
    "pelleted_seeds_per_gram", "seeds per gram", 0.5, 100_000.0, "Pellets to the gram.";
    "pinch_delay_days", "days", 0.0, 60.0, "Days that pinching costs.";
    "pinch_stem_multiplier", "times", 1.0, 10.0, "How many times the stems of an unpinched plant.";
    "plants_per_m2_bed", "plants per m2", 0.2, 500.0, "Plants to a square metre of bed.";
    "production_ceases_above_c", "C", 10.0, 45.0, "Warmth of days that ends its bloom.";
    "quality_declines_above_c", "C", 5.0, 45.0, "Warmth from which bloom is poorer.";
    "saleable_stems_per_m2_field", "stems per m2", 0.0, 1000.0, "Stems that sell from a square metre, outdoors.";
    "saleable_stems_per_m2_tunnel", "stems per m2", 0.0, 1000.0, "Stems that sell from a square metre, tunnel.";
    "seedling_cold_days", "days", 0.0, 200.0, "Cool days (10 to 13 C) that hasten bloom of young plants.";
    "seedling_stall_above_c", "C", 10.0, 40.0, "Warmth, day and night or of the mix, above which seedlings stall or form rosettes.";
    "seeds_per_gram", "seeds per gram", 0.5, 100_000.0, "Seeds to the gram.";
    "spacing_cm", "cm", 2.0, 200.0, "Distance between plants in the bed.";
    "spacing_single_stem_cm", "cm", 2.0, 200.0, "The same for plants that give one stem.";
    "spacing_wide_cm", "cm", 2.0, 200.0, "The same for pinched or branching plants.";
    "stem_length_cm", "cm", 5.0, 300.0, "Length of a cut stem.";
    "stem_length_field_cm", "cm", 5.0, 300.0, "Length of a cut stem, outdoors.";
    "stems_per_m2_field", "stems per m2", 0.0, 1000.0, "Stems cut from a square metre, outdoors.";
    "stems_per_m2_tunnel", "stems per m2", 0.0, 1000.0, "Stems cut from a square metre, tunnel.";
    "stems_per_plant_field", "stems per plant", 0.0, 200.0, "Stems from a plant, outdoors.";
    "stems_per_plant_season", "stems per plant", 0.0, 200.0, "Stems from a plant over its season.";
    "stems_per_plant_wide", "stems per plant", 0.0, 200.0, "Stems from a pinched or branching plant at wide spacing.";
    "stems_per_plant_year2plus", "stems per plant", 0.0, 200.0, "Stems from a plant in later years.";
    "succession_interval_days", "days", 0.0, 120.0, "From one sowing to the next; 0 where once is enough.";
    "thermal_time_transplant_to_bloom_cd", "degree-days", 20.0, 20_000.0, "Warmth above the base, from planting to first bloom.";
    "tunnel_advance_vs_field_days", "days", 0.0, 120.0, "Bloom in a tunnel ahead of that outdoors.";
    "tunnel_stem_gain_cm", "cm", 0.0, 100.0, "Stem length gained in a tunnel.";
    "unheated_tunnel_planting_weeks_vs_last_frost", "weeks", -45.0, 20.0, "Planting in an unheated tunnel, counted from the average last frost.";
    "vase_life_days", "days", 1.0, 200.0, "In the buyer's vase.";
    "viability_ch", "per C", -0.5, 0.5, "Ellis and Roberts viability constant CH.";
    "viability_cq", "per C2", 0.0, 0.01, "Ellis and Roberts viability constant CQ.";
    "viability_cw", "1", -10.0, 20.0, "Ellis and Roberts viability constant CW.";
    "viability_ke", "1", 0.0, 20.0, "Ellis and Roberts viability constant KE.";
    "weeks_in_tray_longest", "weeks", 0.5, 30.0, "From sowing to the day after which the plants spoil in the tray; only for crops that can't be held there.";
    "weeks_sow_to_transplant", "weeks", 0.0, 30.0, "From sowing to planting out.";
};
