#pragma once

#include <string>

#include "report/display.hpp"

namespace sprocketry::report {

// How a figure of search::figures_of() reads for this person: "range" for "range_km", "cruise at
// 70 km/h: battery current" for "cruise_2_battery_current_a", with the unit that its name ends
// with.
Shown shown_figure(const std::string& key, const spec::Requirement& requirement);

// The change from a to b as a person finds it from the two rounded values: "+12.0", "-0.3", "0.0";
// "-" when one does not exist.
std::string shown_change(const Shown& shown, double a, double b);

// Whether a smaller value is welcome (+1), a larger one (-1), or neither (0): of a metric what its
// table says, of listed figures and settings what their names say (currents, times, temperatures
// down; ranges and forces up).
int welcome_direction(const std::string& key);

// Whether the figure only repeats what was asked for (the speed of a cruise).
bool repeats_question(const std::string& key);

}  // namespace sprocketry::report
