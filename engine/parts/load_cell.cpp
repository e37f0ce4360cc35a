#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "parts/limits.hpp"
#include "parts/load_parts.hpp"
#include "parts/standards.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::cell;

// Of a chemistry that is not in the table.
constexpr double kUnknownCharging = 0.9;

// A bought block of several cells in series ("12 V lead-acid") takes its chemistry's values so many
// times.
int cells_in_block(const Chemistry* chemistry, double nominal) {
  if (chemistry == nullptr || nominal <= 0) return 1;
  return std::max(1, static_cast<int>(std::lround(nominal / chemistry->nominal_voltage)));
}

std::string volts(double value) { return number_text(value) + " V"; }

// A value that the chemistry knows for one cell, or that must be stated.
double per_cell(Reader& reader, std::string_view key, const Chemistry* chemistry,
                double Chemistry::*member, int block) {
  if (chemistry == nullptr) return reader.quantity(key, rule::kVoltage).value_or(0);
  const auto stated = reader.optional_quantity(key, rule::kVoltage);
  if (stated) return *stated;
  const double value = block * chemistry->*member;
  if (reader.has(key)) return value;
  reader.record_default(key, volts(value), chemistry->source);
  return reader.derived(key, value, rule::kVoltage, "V");
}

std::optional<model::OpenCircuitPoint> read_point(const document::Node& item, Findings& findings) {
  const auto* pair = read_list(item, "open_circuit", "[[0 %, 2.80 V], [100 %, 3.45 V]]", findings);
  if (pair == nullptr) return std::nullopt;
  if (pair->size() != 2) {
    findings.diagnostics.error(item.mark,
                               "a point of `open_circuit` has " + std::to_string(pair->size()) +
                                   " values, but needs a state of charge and a voltage",
                               "write for example [50 %, 3.29 V]");
    return std::nullopt;
  }
  const auto soc = read_quantity((*pair)[0], "open_circuit", rule::kStateOfCharge, findings);
  const auto voltage = read_quantity((*pair)[1], "open_circuit", rule::kVoltage, findings);
  if (!soc || !voltage) return std::nullopt;
  return model::OpenCircuitPoint{*soc, *voltage};
}

void read_stated_curve(const std::vector<document::Node>& items, Findings& findings,
                       model::Cell& cell) {
  if (items.size() < 2) {
    findings.diagnostics.error(items.front().mark, "`open_circuit` needs at least 2 points",
                               "give the open-circuit voltage at 0 % and at 100 %");
    return;
  }
  for (const document::Node& item : items) {
    const auto point = read_point(item, findings);
    if (!point) continue;
    if (!cell.open_circuit.empty()) {
      const model::OpenCircuitPoint& last = cell.open_circuit.back();
      if (point->state_of_charge <= last.state_of_charge) {
        findings.diagnostics.error(item.mark,
                                   "`open_circuit` must ascend in state of charge, but this point "
                                   "does not come after the one before",
                                   "sort the points from empty to full, each state of charge once");
        continue;
      }
      if (point->voltage < last.voltage) {
        findings.diagnostics.error(
            item.mark, "`open_circuit` falls while the state of charge rises",
            "the open-circuit voltage of a cell rises from empty to full; check this point");
        continue;
      }
    }
    cell.open_circuit.push_back(*point);
  }
}

void read_open_circuit(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  constexpr std::string_view kExample = "[[0 %, 2.80 V], [100 %, 3.45 V]]";
  const auto* items = chemistry == nullptr ? reader.list("open_circuit", kExample)
                                           : reader.optional_list("open_circuit", kExample);
  if (items != nullptr) read_stated_curve(*items, reader.findings(), cell);
}

std::vector<model::OpenCircuitPoint> curve_of(const Chemistry& chemistry, int block) {
  std::vector<model::OpenCircuitPoint> curve;
  for (const auto& [soc, voltage] : chemistry.open_circuit) curve.push_back({soc, block * voltage});
  return curve;
}

// lfp and nmc are counted with a round voltage; others with what they have at half charge.
void read_nominal(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  if (const auto stated = reader.optional_quantity("nominal_voltage", rule::kVoltage)) {
    cell.nominal_voltage = *stated;
    return;
  }
  const bool counted = chemistry != nullptr && chemistry->name != "lead_acid";
  if (counted) {
    cell.nominal_voltage = chemistry->nominal_voltage;
  } else if (!cell.open_circuit.empty()) {
    cell.nominal_voltage = model::open_circuit_voltage(cell.open_circuit, 0.5);
  } else if (chemistry != nullptr) {
    cell.nominal_voltage = model::open_circuit_voltage(curve_of(*chemistry, 1), 0.5);
  }
  if (reader.has("nominal_voltage") || cell.nominal_voltage <= 0) return;
  reader.record_default("nominal_voltage", volts(cell.nominal_voltage),
                        counted ? chemistry->source : "open-circuit voltage at 50 %");
}

void fill_open_circuit(Reader& reader, const Chemistry* chemistry, int block, model::Cell& cell) {
  if (chemistry == nullptr || reader.has("open_circuit")) return;
  cell.open_circuit = curve_of(*chemistry, block);
  std::string value = "the curve of " + std::string(chemistry->name);
  if (block > 1) value += ", " + std::to_string(block) + " cells in series";
  reader.record_default("open_circuit", std::move(value), chemistry->open_circuit_source);
}

void read_usable(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  if (chemistry != nullptr && !reader.has("usable")) {
    cell.usable_from = chemistry->usable_from;
    cell.usable_to = chemistry->usable_to;
    reader.record_default(
        "usable",
        number_text(100 * cell.usable_from) + " % to " + number_text(100 * cell.usable_to) + " %",
        chemistry->source);
    cell.usable_from = reader.derived("usable.from", cell.usable_from, rule::kStateOfCharge, "%");
    cell.usable_to = reader.derived("usable.to", cell.usable_to, rule::kStateOfCharge, "%");
    return;
  }
  auto usable = reader.map("usable", {}, "{from: 100 %, to: 15 %}");
  if (!usable) return;
  const auto from = usable->quantity("from", rule::kStateOfCharge);
  const auto to = usable->quantity("to", rule::kStateOfCharge);
  usable->check_ascending("to", to, "from", from,
                          "a ride goes from the fuller to the emptier state", true);
  usable->finish();
  cell.usable_from = from.value_or(1);
  cell.usable_to = to.value_or(0);
}

void read_current(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  auto current = reader.map("current", {}, "{continuous: 100 A, peak: 300 A, charge: 50 A}");
  if (!current) return;
  const auto continuous = current->quantity("continuous", rule::kCurrent);
  const auto peak = current->quantity("peak", rule::kCurrent);
  current->check_ascending("continuous", continuous, "peak", peak,
                           "a peak rating is at least the continuous one");
  const auto charge = chemistry == nullptr ? current->quantity("charge", rule::kCurrent)
                                           : current->optional_quantity("charge", rule::kCurrent);
  cell.continuous_current = continuous.value_or(0);
  cell.peak_current = peak.value_or(0);
  cell.charge_current = charge.value_or(0);
  if (chemistry != nullptr && !charge && !current->has("charge")) {
    cell.charge_current = chemistry->charge_rate * cell.capacity / 3600.0;
    current->record_default("charge", number_text(cell.charge_current) + " A", chemistry->source);
    cell.charge_current = current->derived("charge", cell.charge_current, rule::kCurrent, "A");
  }
  current->finish();
}

void read_peukert(Reader& reader, model::Cell& cell) {
  auto peukert = reader.optional_map("peukert", {}, "{exponent: 1.15}");
  if (!peukert) {
    if (!reader.has("peukert")) {
      reader.record_default("peukert.exponent", "1, charge does not depend on the current",
                            kCommonPractice);
    }
    return;
  }
  cell.peukert_exponent = peukert->number("exponent", rule::kPeukertExponent, "1.15").value_or(1);
  cell.rated_hours = peukert->number_or("hours", rule::kPeukertHours, "20", kCommonPractice);
  peukert->finish();
}

// The chemistry's law; of an unknown one what is usual for cells that suffer much.
model::ColdLaw usual_cold(const Chemistry* chemistry) {
  constexpr model::ColdLaw kUnknown{model::kZeroCelsius, 2.5, 0.8};
  return chemistry != nullptr ? chemistry->cold : kUnknown;
}

void read_cold(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  auto cold = reader.optional_map("cold", {}, "{at: -10 degC, resistance: 3, capacity: 75 %}");
  if (cold) {
    cell.cold.temperature =
        cold->quantity("at", rule::kColdTemperature).value_or(cell.cold.temperature);
    cell.cold.resistance = cold->number("resistance", rule::kColdResistance, "2.5").value_or(1);
    cell.cold.capacity = cold->quantity("capacity", rule::kColdCapacity).value_or(1);
    cold->finish();
    return;
  }
  cell.cold = usual_cold(chemistry);
  if (reader.has("cold")) return;
  reader.record_default("cold",
                        "at " + number_text(cell.cold.temperature - model::kZeroCelsius) +
                            " degC resistance x " + number_text(cell.cold.resistance) +
                            ", capacity " + number_text(100 * cell.cold.capacity) + " %",
                        kCommonPractice);
}

PackKit read_kit(Reader& reader) {
  PackKit kit;
  auto pack = reader.optional_map("pack", {}, "{mass: 3 kg, price: 110, resistance: 2 mohm}");
  if (!pack) {
    if (!reader.has("pack")) {
      reader.record_default("pack", "no case, links or board: 0 kg, 0, 0 mohm", kNotStated);
    }
    return kit;
  }
  kit.mass = pack->optional_quantity("mass", limits::kPartMass).value_or(0);
  kit.price = pack->optional_money("price").value_or(0);
  kit.resistance = pack->optional_quantity("resistance", rule::kLinkResistance).value_or(0);
  kit.board_current = pack->optional_quantity("current", rule::kCurrent);
  pack->finish();
  return kit;
}

// A full cell rests below the voltage it is charged with, an empty one above its cut-off.
void check_voltages(Reader& reader, const model::Cell& cell) {
  if (cell.full_voltage <= 0 || cell.empty_voltage <= 0) return;
  reader.check_ascending("empty_voltage", cell.empty_voltage, "full_voltage", cell.full_voltage,
                         "a cell is full at a higher voltage than empty", true);
  if (!reader.has("open_circuit") || cell.open_circuit.empty()) return;
  if (cell.open_circuit.back().voltage > cell.full_voltage) {
    reader.error(reader.has("full_voltage") ? "full_voltage" : "open_circuit",
                 "the full cell rests at " + volts(cell.open_circuit.back().voltage) +
                     ", above its `full_voltage` of " + volts(cell.full_voltage),
                 "give the voltage at which charging ends");
  }
}

// A curve of a block beside the nominal voltage of one cell, or the reverse.
bool fits_nominal(Reader& reader, const model::Cell& cell) {
  constexpr double kTolerance = 0.25;
  if (cell.open_circuit.empty() || cell.nominal_voltage <= 0) return false;
  const double half = model::open_circuit_voltage(cell.open_circuit, 0.5);
  if (std::abs(half / cell.nominal_voltage - 1) <= kTolerance) return true;
  reader.error(reader.has("nominal_voltage") ? "nominal_voltage" : "open_circuit",
               "a nominal voltage of " + volts(cell.nominal_voltage) +
                   " does not fit an open-circuit voltage of " + volts(half) + " at 50 %",
               "for a block of several cells state `nominal_voltage` of the block, such as 12.8 V");
  return false;
}

void read_voltages(Reader& reader, const Chemistry* chemistry, std::string_view name,
                   model::Cell& cell) {
  read_open_circuit(reader, chemistry, cell);
  read_nominal(reader, chemistry, cell);
  const int block = cells_in_block(chemistry, cell.nominal_voltage);
  fill_open_circuit(reader, chemistry, block, cell);
  cell.full_voltage = per_cell(reader, "full_voltage", chemistry, &Chemistry::full_voltage, block);
  cell.empty_voltage =
      per_cell(reader, "empty_voltage", chemistry, &Chemistry::empty_voltage, block);
  // Nothing follows from a curve that was taken for want of another.
  const bool guessed = chemistry != nullptr && chemistry->name != name;
  if (!guessed && fits_nominal(reader, cell)) check_voltages(reader, cell);
}

// The chemistry of the table. A name that is not in it is one of its own where the cell states its
// curve; else it is reported, and the cell read as the nearest so that one word makes one message.
const Chemistry* read_chemistry(Reader& reader, CellPart& part) {
  part.chemistry = reader.id("chemistry", "lfp").value_or("");
  if (const Chemistry* known = find_chemistry(part.chemistry)) return known;
  if (reader.has("open_circuit")) return nullptr;
  std::vector<std::string_view> names;
  for (const Chemistry& chemistry : chemistries()) names.push_back(chemistry.name);
  if (part.chemistry.empty()) return find_chemistry(names.front());
  const auto near = document::nearest(part.chemistry, names);
  reader.error(
      "chemistry", "the chemistry `" + part.chemistry + "` is not known",
      (near ? "did you mean `" + std::string(*near) + "`? Known: " : "known: ") + joined(names) +
          " (cells of 3.6 or 3.7 V are mostly near nmc, of 3.2 V lfp); one of another must state "
          "open_circuit, full_voltage, empty_voltage, usable and current.charge");
  return find_chemistry(near.value_or(names.front()));
}

}  // namespace

void read_cell(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "cells", shelf);
  CellPart part;
  part.id = id;
  part.mark = node.mark;
  const Chemistry* chemistry = read_chemistry(reader, part);
  model::Cell& cell = part.model;
  cell.capacity = reader.quantity("capacity", rule::kCapacity).value_or(0);
  cell.resistance = reader.quantity("resistance", rule::kResistance).value_or(0);
  read_voltages(reader, chemistry, part.chemistry, cell);
  read_usable(reader, chemistry, cell);
  read_current(reader, chemistry, cell);
  read_peukert(reader, cell);
  read_cold(reader, chemistry, cell);
  cell.charge_efficiency = reader.quantity_or(
      "charge_efficiency", rule::kChargeEfficiency,
      number_text(100 * (chemistry != nullptr ? chemistry->charge_efficiency : kUnknownCharging)) +
          " %",
      kCommonPractice);
  part.mass = reader.quantity("mass", rule::kMass).value_or(0);
  part.price = reader.money("price", "95").value_or(0);
  part.size = read_body(reader, "size");
  part.kit = read_kit(reader);
  reader.finish();
  shelf.catalogue.cells.push_back(std::move(part));
}

void read_named_pack(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "packs", shelf);
  NamedPack pack;
  pack.id = id;
  pack.mark = node.mark;
  pack.cell_id = reader.id("cell", "slate-100").value_or("");
  pack.series = reader.integer("series", rule::kSeries, "16").value_or(1);
  pack.parallel = reader.integer("parallel", rule::kParallel, "1").value_or(1);
  reader.finish();
  shelf.catalogue.packs.push_back(std::move(pack));
}

}  // namespace sprocketry::parts
