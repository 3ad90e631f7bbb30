//! What is possible for each figure, by the unit its name carries.

/// Smallest and largest value that a figure of this name can have, or `None`
/// for a name that is no figure's. Wide on purpose: it catches a slip of the
/// decimal point, not an unusual garden.
pub fn allowed(figure: &str) -> Option<(f64, f64)> {
    let limits = match figure {
        "seeds_per_gram" => (0.5, 100_000.0),
        "days_to_emergence_first_typ_most" => (1.0, 400.0),
        "germination_pct" => (1.0, 100.0),
        "weeks_sow_to_transplant" => (0.0, 30.0),
        "outdoor_planting_weeks_vs_last_frost" | "unheated_tunnel_planting_weeks_vs_last_frost" => {
            (-45.0, 20.0)
        }
        "germination_soil_temp_c"
        | "germination_min_c"
        | "germination_max_c"
        | "growon_day_c"
        | "bloom_ceiling_c" => (0.0, 40.0),
        "growon_night_c" | "cold_storage_c" => (-2.0, 30.0),
        "min_safe_night_c_hardened_plants" => (-30.0, 15.0),
        "base_temp_c" => (-5.0, 15.0),
        "spacing_cm" => (2.0, 200.0),
        "stem_length_cm" => (5.0, 300.0),
        "plants_per_m2_bed" => (0.2, 500.0),
        "thermal_time_transplant_to_bloom_cd" => (20.0, 20_000.0),
        "days_transplant_to_first_bloom_cool" | "days_transplant_to_first_bloom_warm" => {
            (5.0, 800.0)
        }
        "hardening_off_days" => (0.0, 30.0),
        "chill_days" => (0.0, 200.0),
        "harvest_window_days" | "vase_life_days" => (1.0, 200.0),
        "flush_interval_days" => (5.0, 120.0),
        "succession_interval_days" => (0.0, 120.0),
        "cold_storage_max_days" => (0.0, 100.0),
        "flushes" => (1.0, 10.0),
        "stems_per_plant_season" | "stems_per_plant_field" | "stems_per_plant_year2plus" => {
            (0.0, 200.0)
        }
        "stems_per_m2_tunnel" | "stems_per_m2_field" => (0.0, 1000.0),
        "bunch_size" => (1.0, 100.0),
        "marketable_tunnel" | "marketable_field" | "mat_off_share" | "dome_off_share" => (0.0, 1.0),
        _ => return None,
    };
    Some(limits)
}
