#pragma once

#include <optional>
#include <span>

namespace sprocketry::parts {

// The class of the trade (V, "48 V") that a pack of a nominal voltage (V) counts to: the nearest of
// the named ones, the lower of two as near, if the voltage lies within 15 % of it, ends included;
// nothing otherwise. Common practice, no source.
std::optional<double> voltage_class(std::span<const double> classes, double nominal_voltage);

// The classes that the trade sells packs by, in V, ascending. Common practice, no source.
std::span<const double> trade_voltage_classes();

}  // namespace sprocketry::parts
