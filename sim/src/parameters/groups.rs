//! The constants by process, as the processes read them.

use super::Getter;
use crate::weather::WeatherParameters;

/// Declares a group of constants as a struct of `f64` and how to read it by name.
macro_rules! group {
    ($(#[$doc:meta])* $name:ident { $($field:ident),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq)]
        #[expect(missing_docs, reason = "each constant is described in parameters.toml")]
        pub struct $name { $(pub $field: f64),* }

        impl $name {
            pub(super) fn read(prefix: &str, get: &mut Getter<'_>) -> $name {
                $name { $($field: get.value(prefix, stringify!($field))),* }
            }
        }
    };
}

/// Reads a group whose struct lives with its process.
macro_rules! read_into {
    ($get:expr, $prefix:expr, $name:ident { $($field:ident),* $(,)? }) => {
        $name { $($field: $get.value($prefix, stringify!($field))),* }
    };
}

/// Reads weather, snow, soil temperature and the forecast.
pub(super) fn read_weather(prefix: &str, get: &mut Getter<'_>) -> WeatherParameters {
    read_into!(
        get,
        prefix,
        WeatherParameters {
            krs,
            albedo,
            wind_missing_m_s,
            wind_floor_m_s,
            soil_krs,
            soil5_k,
            soil5_b,
            soil10_k,
            soil10_b,
            frost_factor,
            snow_threshold_c,
            snow_melt_base_c,
            snow_melt_mm_c_day,
            frozen_soil_c,
            frozen_t_max_c,
            forecast_wet_mm,
            forecast_hit_rate,
            forecast_false_alarm_rate,
            forecast_hit_loss_per_day,
            forecast_false_alarm_gain_per_day,
            forecast_rain_log_sd,
            forecast_rain_log_sd_gain_per_day,
            forecast_false_rain_mm,
            forecast_t_max_sd_c,
        }
    )
}

group! {
    /// Soil water and evapotranspiration.
    Water {
        crop_coefficient, crop_coefficient_per_mm, crop_coefficient_max, soil_coefficient,
        mulched_share, transpiration_extinction, redistribution, evaporation_ready_share,
        p_depletion, om_extra_field_capacity, subsoil_organic_matter, compaction_ks_moderate,
        compaction_ks_severe, compaction_root_moderate, compaction_root_severe_mm,
        topsoil_ks_spread, extension_stress_power, crop_coefficient_height_mm,
        crop_coefficient_min, redistribution_distance_mm, om_reference_pct, root_limit_min_mm,
        root_depth_min_mm, sign_depth_mm, sun_driven_demand,
    }
}

group! {
    /// What a look at a lawn is worth, and how much a lawn can have changed in a year.
    Seen {
        look_share, look_least, look_finest, cover_change, cover_least, crabgrass_factor,
        crabgrass_more,
    }
}

group! {
    /// Thatch and the top centimetre, where seed lies.
    Seedbed { capacity_mm, shaded_share, exchange }
}

group! {
    /// Compost laid on top.
    Compost {
        field_capacity, bulk_density_kg_m3, carbon_share, nitrogen_share,
        mineral_nitrogen_share,
    }
}

group! {
    /// What all grasses share.
    Sward {
        par_share, extinction, stubble_area_index, rue_g_mj, photosynthesis_t_low_c,
        photosynthesis_t_opt_low_c, photosynthesis_t_opt_high_c, photosynthesis_t_high_c,
        growth_t_width_c, maintenance_leaf, maintenance_base, maintenance_root, maintenance_q10,
        growth_efficiency, reserve_share_max, reserve_mobile_share, leaf_life_days,
        leaf_refill_days, hungry_leaf, blade_profile, profile_reference_mm, height_max_mm,
        spring_flush, root_t_low_c, root_t_opt_low_c, root_t_opt_high_c, root_t_high_c,
        root_growth_max, root_life_days, root_heat_loss, root_half_g_m2, tiller_mass_g,
        tillering_max, tillering_light_half, tiller_loss, opening_density_share,
        starvation_loss, drought_leaf_loss, drought_tiller_loss, heat_leaf_loss,
        frost_leaf_loss_t_c, shade_leaf_power, shade_efficiency_power, shade_sun_min, carbon_share, nitrogen_min, nitrogen_critical, nitrogen_max,
        luxury_pace, nitrogen_base_ratio, nitrogen_root_ratio, nitrogen_resorption,
        reserve_low_share, reserve_floor, winter_rest, dormant_rest, blight_rate, blight_t_c,
        winter_rest_end_c, spring_from_day, spring_full_from_day, spring_full_to_day,
        spring_to_day, reserve_tissue_ratio, reserve_full_share, hunger_pace, dry_uptake_share,
        hungry_assimilation, waking_ratio, leaf_ageing_cold_share, leaf_ageing_max,
        drought_leaf_ks, heat_scale_c, heat_leaf_max, frost_leaf_loss_per_c,
        frost_leaf_loss_max, starving_leaf_loss, starving_respiration_max, leaf_loss_max,
        shoot_soil_t_low_c, shoot_soil_t_full_c, refill_ks_low, refill_ks_full, vigour_min, refill_cool_share, refill_hungry_share,
        root_nitrogen_share, root_ageing_min, root_ageing_max, root_loss_max,
        tillering_cool_share, tillering_root_min, drought_account_ks, drought_account_t_c,
        drought_account_relief,
        loss_respiration_max, tiller_ageing_cold_share, heat_loss_from_c, heat_loss_max,
        blight_rain_mm, blight_t_width_c, stress_loss_max, holding_ratio, spread_density_share,
        spread_cool_share, dormant_green_share, dormant_water_share,
    }
}

group! {
    /// What a cut does.
    Mowing {
        root_stop_half, root_stop_width, root_stop_from, root_stop_hold_days,
        root_stop_recovery_days, root_stop_recovery_slope_days, scalp_from, scalp_loss,
        stubble_from, stubble_recovery, clump_g_m2, clump_decay, smother_g_m2, smother_loss,
        stress_cut_loss, stubble_recovery_cool_share, track_share, track_ks, track_frost_c,
        track_frost_start, track_leaf_loss, track_crown_loss, rut_loss,
    }
}

group! {
    /// Mineral nitrogen.
    Nitrogen {
        deposition_g_m2_mm, dissolve_mm, hydrolysis, volatile_share, volatile_t_low_c,
        volatile_t_high_c, nitrification, nitrification_t_low_c, nitrification_t_full_c,
        storage, storage_nitrate_ratio, denitrification, denitrification_from,
        uptake_max_g_g, uptake_half_g_m2, washoff_share, coated_q10, coated_thatch_factor,
        leaching_bypass, hydrolysis_cold_share, hydrolysis_soil_ratio, nitrate_surface_share,
        denitrification_t_c, denitrification_doubling_c, uptake_reach_share, uptake_t_full_c,
        uptake_day_max, coated_reference_t_c, settle_mm, salt_urea, salt_ammonium, salt_nitrate,
        burn_t_low_c, burn_t_high_c, burn_half, burn_power, burn_day, burn_cool_share,
        burn_crown_half,
    }
}

group! {
    /// Organic matter.
    Organic {
        q10, litter, root_litter, compost, humus, fertilizer, humified_share, humus_cn,
        humus_depth_mm, dry_stop, immobilization_half_g_m2, fertilizer_cn, immobilization_pace,
        root_litter_top_share,
    }
}

group! {
    /// The pre-emergent barrier.
    Barrier {
        q10, moisture_power, leaf_spray, leaf_granule, leaf_half_life_days, wash_mm,
        granule_release_mm, reference_t_c, early_post_area_m2, turf_decay,
    }
}

group! {
    /// Crabgrass.
    Crabgrass {
        base_t_c, lag_dd, scale_dd, shape, late_share, late_scale_dd, gate_open_kpa,
        gate_shut_kpa, germinable_share, bank_survival, entry_share, seed_rain_m2,
        usual_cover, likeness, seed_area_m2, seed_full_day_length_h, seedling_area_m2, rgr, rgr_t_low_c, rgr_t_opt_c, rgr_t_high_c,
        light_half, light_compensation, plant_area_max_m2, escape_area_m2, escape_height_mm,
        gap_mm, gap_open_mm, leaf_area_max, seedling_loss, shade_loss, dry_loss,
        frost_mature_c, frost_seedling_c, displacement, invasion_light, brown_shade, leaf_g_m2,
        nitrogen_share, transpiration_factor, root_share, root_depth_mm, seed_day_length_h,
        seed_rate, decline_day_length_h, decline, rgr_t_opt_high_c, escape_height_min_mm,
        shade_gain, loss_max, displacement_max,
    }
}

group! {
    /// Dandelion and its like.
    Dandelion {
        leaf_nitrogen, base_nitrogen, specific_leaf_area, rue_g_mj, reserve_share,
        spare_level, draw, refill, build_base, root_share, root_depth_mm, extinction, base_max_g, base_life_days, usual_base_g,
        leaf_max_g, leaf_half_base_g, crown_m2_g, winter_leaf, cover_max, flat_mm, rise,
        stage_leaf_g, t_low_c, t_opt_low_c, t_opt_high_c, t_high_c, leaf_area_max,
        leaf_life_days, leaf_ageing_cold, frost_t_c, frost_loss_per_c, dry_leaf_loss, loss,
        tender_g, seedling_loss, seedling_dry_loss, moist_from, starving_loss, loss_max,
        grown_base_g, stand_days, seedling_g, seedling_leaf, seeds_per_head, entry_share,
        home_share, arrivals_m2, seed_loss, germination, germination_t_low_c,
        germination_t_opt_low_c, germination_t_opt_high_c, germination_t_high_c, ripe_dd,
        viable_dd, bud_mm, ripe_mm, heads_per_plant, head_g, flush_days, flower_from_h,
        flower_full_h, flower_full_to_h, flower_to_h, flower_t_low_c, flower_t_full_c,
        autumn_from_h, autumn_to_h, autumn_flowering, invasion_light, displacement,
        transpiration_factor,
    }
}

group! {
    /// White clover.
    Clover {
        leaf_nitrogen, base_nitrogen, specific_leaf_area, rue_g_mj, reserve_share,
        spare_level, draw, refill, build_base, root_share, root_depth_mm, creep, node_light_half, leaf_ratio,
        stolon_m2_g, winter_leaf, cover_max, low_mm, rise, height_max_mm, patch_mm,
        blade_depth, cut_max, t_low_c, t_opt_low_c, t_opt_high_c, t_high_c, leaf_area_max,
        area_max, leaf_life_days, leaf_ageing_cold, stolon_life_days, frost_t_c,
        frost_loss_per_c, stolon_frost_t_c, stolon_frost_loss_per_c, dry_leaf_loss,
        dry_stolon_loss, starving_loss, loss_max, soil_share, fixing_t_low_c,
        fixing_t_full_c, fixing_cost_g_g, seedlings_m2, seed_days, seed_t_low_c,
        seed_t_full_c, seedling_g, invasion_light, displacement, transpiration_factor,
    }
}

group! {
    /// Sowing, and seed in the ground.
    Seeding {
        seed_nitrogen, seedling_per_seed, seed_loss, gate_open_kpa, gate_shut_kpa,
        emergence_shape, contact_broadcast, contact_raked, contact_slit, catch_broadcast,
        catch_raked, catch_slit, slit_opening,
    }
}

group! {
    /// Seedlings of turfgrasses, until they tiller.
    Seedling {
        nitrogen_share, leaf_area_ratio, leaf_share, root_share, reserve_share, root_depth_mm, uptake_ratio,
        light_half, light_compensation, light_full_mj_m2, moist_from, tender_g, loss, dry_loss,
        shade_loss, shade_gain, heat_loss, frost_t_c, frost_loss_per_c, mow_loss, loss_max,
        height_mm, tillering_shape, tillering_pace,
    }
}

group! {
    /// Seed of one grass.
    GrassSeed { mass_mg, base_t_c, opt_t_c, high_t_c, emergence_dd, field_survival, growth_max }
}

group! {
    /// Coring and scarifying.
    Cultivation {
        hole_ks_mm_h, intake_gain, root_gain, loose_half_life_days, barrier_broken, seed_catch,
        seedbed_half_life_days, litter_share, litter_depth_mm, torn_per_mm, track_per_mm, track_max,
        stimulus_half_life_days,
    }
}

group! {
    /// Killing turf, levelling, laying sod.
    Renovation {
        kill_ed50_kg_ha, kill_slope, kill_t_full_c, soil_density_kg_m3, soil_organic_share,
        soil_seed_m2_mm, smother_from, soil_contact_mm, barrier_depth_mm, sod_soil_mm,
        sod_density_share, sod_height_mm, sod_root_g_m2, sod_reserve_share, sod_root_stop_days,
        sod_rooted_g_m2, sod_moist_from, sod_dry_loss,
    }
}

group! {
    /// Iron on the leaf.
    Iron {
        colour_gain, colour_kg_ha, renewal, rinse_mm, half_life_days, burn_from_kg_ha, burn_over,
        burn_t_c, burn_range_c, burn_hot, burn_max,
    }
}

group! {
    /// Soil reaction: lime, acid, and what pH and phosphorus do.
    Reaction {
        lime_half_life_days, lime_base_g_m2, lime_per_clay_g_m2, ph_floor, ph_ceiling, acid_urea,
        acid_ammonium, base_nitrate, nitrification_low_ph, nitrification_full_ph,
        nitrification_acid_share, stir_gain, stir_half_life_days, acid_loss, alkaline_ph,
        alkaline_colour_loss, phosphorus_enough_ppm, phosphorus_least, phosphate_reach_mm,
        phosphate_free_share, phosphate_half_life_days,
    }
}

group! {
    /// Nitrogen on the leaf.
    Foliar {
        caught, uptake, down_mm, lost, burn_cool_g_m2, burn_hot_g_m2, burn_t_low_c, burn_t_c, burnt,
        burnt_max,
    }
}

group! {
    /// The 1-9 visual ratings.
    Quality {
        weight_density, weight_uniformity, weight_colour, density_power, bare_penalty,
        weed_penalty, dandelion_penalty, dandelion_flower_penalty, clover_penalty, clover_worth,
        clover_colour, stubble_penalty, clump_penalty, colour_n_zero, colour_n_scale,
        tall_penalty, tall_from_mm, tall_range_mm, brown_density_share,
        texture_like_ratio, texture_penalty, hue_like, hue_penalty, unlike_max, streak_cv,
        streak_uptake, streak_half_life_days, streak_penalty,
    }
}

group! {
    /// The lawn on the first day.
    Start {
        density_share, root_share, reserve_share, leaf_nitrogen, soil_water_share,
        mineral_n_g_m2, humus_carbon_share, litter_g_m2, winter_green, height_mm,
        ammonium_share, litter_nitrogen, root_litter_nitrogen,
    }
}

group! {
    /// One grass.
    GrassTraits {
        extension_max_mm, bulk_g_mm_tiller, specific_leaf_area, density_max_m2, spread, root_depth_max_mm,
        drought_reserve_days, heat_t_c, colour_ceiling, leaf_width_mm, acid_ph, heat_loss, tillering_factor, rue_factor, growth_t_opt_c,
    }
}

group! {
    /// One pre-emergent active ingredient.
    Active { half_life_days, ed50_kg_ha, slope, early_post, grass_ed50_ratio }
}

group! {
    /// Yellow nutsedge.
    Nutsedge {
        base_t_c, lag_dd, scale_dd, shape, moist_from, invasion_light, displacement,
        displacement_max, sprouting_share, tuber_survival,
        cold_half_c, cold_width_c, tuber_g, tubers_m2, shoot_area_m2, sprout_breath, rgr,
        t_low_c, t_opt_low_c, t_opt_high_c, t_high_c, light_half, light_compensation,
        lift_area_m2, shoot_area_max_m2, branching, leaf_area_max, leaf_g_m2,
        base_share, nitrogen_share, uptake_root_share, root_depth_mm, transpiration_factor,
        dry_pace, wet_full, extension_max_mm, height_max_mm, tuber_share, tuber_day_length_h,
        tuber_full_day_length_h, tuber_yield, frost_c, loss, dry_loss, shade_loss, shade_gain,
        loss_max, young_area_m2, old_area_m2, size_ratio, tall_penalty, tall_full_mm,
    }
}

group! {
    /// Sprays on weeds that are up.
    Spray {
        hour, rain_free_share, leaf_half_life_h, wash_mm, movement, regrowth_days, clip_low,
        clip_tall, dry_uptake, heat_from_c, heat_scale_c, heat_kill_loss, heat_turf, dry_turf,
        turf_loss, turf_days, young_area_m2, tiller_area_m2, old_area_m2, stage_most,
        root_share_summer, root_refill_from_dd, root_refill_to_dd, root_autumn_from_h,
        root_autumn_full_h, survivor_loss, unevenness,
    }
}

group! {
    /// One post-emergent herbicide.
    Post {
        rain_free_h, cool_c, warm_c, moves, kill_days, slope, crabgrass_ed50_kg_ha,
        crabgrass_size_ratio, dandelion_ed50_kg_ha, clover_ed50_kg_ha, nutsedge_ed50_kg_ha,
        kentucky_bluegrass_ed50_kg_ha, perennial_ryegrass_ed50_kg_ha, tall_fescue_ed50_kg_ha,
        fine_fescue_ed50_kg_ha, turf_heat, seedling_ed50_kg_ha,
    }
}
