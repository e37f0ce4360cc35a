#include "parts/standards.hpp"

#include <algorithm>

#include "model/constants.hpp"

namespace sprocketry::parts {
namespace {

// Pitch, roller, width, strength and mass from a handbook's table after ANSI B29.1-1975, pins from
// a table of dimensions after the same standard (both seen); ISO 606 codes from memory. Of the two
// sets of strengths in print these are the minimums of the standard (12 500 lbf times the pitch in
// inches squared, #41 excepted); the other set is 12 to 33 % higher, presumably averages of a
// product. Inner widths are the exact fraction of an inch behind the rounded millimetres.
constexpr std::string_view kAnsi = "ANSI B29.1 by handbook tables (seen); ISO 606 code from memory";

// Pitch, roller and width from lists of the trade that agree to 0.2 mm (seen): where they
// differ the value that equals the industrial size with the same sprocket is taken. Least breaking
// loads are those of ISO 10190:2008 and, like masses and pins, from memory; for 428 a maker's
// 17.8 kN was seen and the lower figure taken. A pin is that of the industrial chain with the same
// pitch and roller (428: of ISO 606 08B).
constexpr std::string_view kMotorcycle =
    "pitch, roller, width: published motorcycle chain tables (seen); strength: ISO 10190:2008, "
    "from "
    "memory with low confidence; pin and mass: from memory with low confidence";
constexpr std::string_view k425 =
    "pitch, roller, width: chain maker's textbook, tooth form of ANSI 40 (seen); strength and pin "
    "of "
    "ISO 606 08A, from memory; mass: from memory with low confidence";

// Lengths in m, written as millimetres.
constexpr ChainSize kChainSizes[] = {
    // name, ISO 606, pitch, roller, inner width, pin, N, kg/m
    {"25", "04C", 6.35e-3, 3.30e-3, 3.175e-3, 2.30e-3, 3470, 0.134, kAnsi},
    {"35", "06C", 9.525e-3, 5.08e-3, 4.7625e-3, 3.58e-3, 7830, 0.313, kAnsi},
    {"41", "085", 12.70e-3, 7.77e-3, 6.35e-3, 3.58e-3, 6670, 0.372, kAnsi},
    {"40", "08A", 12.70e-3, 7.92e-3, 7.9375e-3, 3.96e-3, 13920, 0.625, kAnsi},
    {"50", "10A", 15.875e-3, 10.16e-3, 9.525e-3, 5.08e-3, 21700, 1.027, kAnsi},
    {"60", "12A", 19.05e-3, 11.91e-3, 12.70e-3, 5.94e-3, 31300, 1.488, kAnsi},
    {"80", "16A", 25.40e-3, 15.88e-3, 15.875e-3, 7.92e-3, 55600, 2.545, kAnsi},
    {"415", "", 12.70e-3, 7.77e-3, 4.7625e-3, 3.58e-3, 15600, 0.55, kMotorcycle},
    {"420", "", 12.70e-3, 7.77e-3, 6.35e-3, 3.58e-3, 15600, 0.60, kMotorcycle},
    {"425", "", 12.70e-3, 7.92e-3, 7.9375e-3, 3.96e-3, 13900, 0.65, k425},
    {"428", "", 12.70e-3, 8.51e-3, 7.9375e-3, 4.45e-3, 16700, 0.72, kMotorcycle},
    {"520", "", 15.875e-3, 10.16e-3, 6.35e-3, 5.08e-3, 26500, 0.95, kMotorcycle},
    {"525", "", 15.875e-3, 10.16e-3, 7.9375e-3, 5.08e-3, 26500, 1.05, kMotorcycle},
    {"530", "", 15.875e-3, 10.16e-3, 9.525e-3, 5.08e-3, 26500, 1.10, kMotorcycle},
    {"630", "", 19.05e-3, 11.91e-3, 9.525e-3, 5.94e-3, 35300, 1.60, kMotorcycle},
};

// Measured, so the flat middle and the steep ends are those of a real cell; published with its
// breakpoints, which are all that is kept.
constexpr std::array<double, 2> kLfpOpenCircuit[] = {
    {0.0000, 2.0102}, {0.0033, 2.4177}, {0.0117, 2.7405}, {0.0267, 2.9299}, {0.0534, 3.0872},
    {0.0885, 3.1942}, {0.2972, 3.2772}, {0.9833, 3.3511}, {0.9950, 3.4180}, {1.0000, 3.5981},
};

// Of two measured curves (they differ by at most 24 mV from 10 % up) the one that ends at 4.20 V,
// the voltage to which these cells are charged. Preferred to curves computed from half-cell
// functions (Chen et al. 2020), whose middle moves by 43 mV with the limits chosen for the
// electrodes.
constexpr std::array<double, 2> kNmcOpenCircuit[] = {
    {0.0000, 2.5000}, {0.0050, 2.8080}, {0.0352, 3.1179}, {0.0854, 3.3182}, {0.1357, 3.4193},
    {0.2915, 3.5826}, {0.4523, 3.6941}, {0.8392, 4.0664}, {0.9548, 4.1121}, {1.0000, 4.2000},
};

// A formula that was seen and covers the whole range. Tables of rested flooded batteries (from
// memory, without a value for empty) lie 0.03 V lower when full and 0.06 V lower at half.
constexpr std::array<double, 2> kLeadAcidOpenCircuit[] = {{0.0, 2.00}, {1.0, 2.15}};

constexpr std::string_view kCommonPractice = "common practice, no source";

constexpr Chemistry kChemistries[] = {
    {.name = "lfp",
     .nominal_voltage = 3.2,
     .full_voltage = 3.65,
     .empty_voltage = 2.5,
     .charge_rate = 0.5,
     .usable_from = 1.0,
     .usable_to = 0.15,
     .cold = {model::kZeroCelsius, 2.5, 0.85},
     .charge_efficiency = 0.99,
     .open_circuit = kLfpOpenCircuit,
     .open_circuit_source = "Sunil, Pattipati, Balasingam, IEEE Trans. Instrum. Meas. 2025: 18650 "
                            "LFP cell measured at C/32 (seen)",
     .source = kCommonPractice},
    {.name = "nmc",
     .nominal_voltage = 3.6,
     .full_voltage = 4.20,
     .empty_voltage = 3.0,
     .charge_rate = 0.5,
     .usable_from = 1.0,
     .usable_to = 0.15,
     .cold = {model::kZeroCelsius, 2.0, 0.88},
     .charge_efficiency = 0.99,
     .open_circuit = kNmcOpenCircuit,
     .open_circuit_source = "Sunil, Pattipati, Balasingam, IEEE Trans. Instrum. Meas. 2025: 21700 "
                            "cell of NMC/NCA type measured at C/20 (seen)",
     .source = kCommonPractice},
    {.name = "lead_acid",
     .nominal_voltage = 2.0,
     .full_voltage = 2.40,
     .empty_voltage = 1.75,
     .charge_rate = 0.2,
     .usable_from = 1.0,
     .usable_to = 0.5,
     .cold = {model::kZeroCelsius, 1.5, 0.8},
     .charge_efficiency = 0.85,
     .open_circuit = kLeadAcidOpenCircuit,
     .open_circuit_source =
         "Larminie, Lowry, Electric Vehicle Technology Explained, eq. 2.10: 2.15 "
         "V full, 2.00 V empty, linear (seen in published copies)",
     .source = kCommonPractice},
};

}  // namespace

std::span<const ChainSize> chain_sizes() { return kChainSizes; }

const ChainSize* find_chain_size(std::string_view name) {
  const auto* const found = std::ranges::find_if(kChainSizes, [name](const ChainSize& size) {
    return size.name == name || (!name.empty() && size.iso_606 == name);
  });
  return found == std::end(kChainSizes) ? nullptr : found;
}

const ChainSize* find_chain_shape(std::string_view name) {
  const ChainSize* known = find_chain_size(name);
  for (const std::string_view suffix : {"MH", "H", "M"}) {
    if (known != nullptr || !name.ends_with(suffix)) continue;
    known = find_chain_size(name.substr(0, name.size() - suffix.size()));
  }
  return known;
}

std::span<const Chemistry> chemistries() { return kChemistries; }

const Chemistry* find_chemistry(std::string_view name) {
  const auto* const found = std::ranges::find(kChemistries, name, &Chemistry::name);
  return found == std::end(kChemistries) ? nullptr : found;
}

}  // namespace sprocketry::parts
