#include <algorithm>
#include <cmath>

#include "parts/limits.hpp"
#include "parts/load_parts.hpp"
#include "parts/standards.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::cell;

// A bought block of several cells in series ("12 V lead-acid") takes its chemistry's values so many
// times.
int cells_in_block(const Chemistry* chemistry, std::optional<double> nominal) {
  if (chemistry == nullptr || !nominal) return 1;
  return std::max(1, static_cast<int>(std::lround(*nominal / chemistry->nominal_voltage)));
}

std::string volts(double value) { return number_text(value) + " V"; }

// A value that the chemistry knows for one cell, or that must be stated.
double per_cell(Reader& reader, std::string_view key, const Chemistry* chemistry,
                double Chemistry::*member, int block) {
  if (chemistry == nullptr) return reader.quantity(key, rule::kVoltage).value_or(0);
  const auto stated = reader.optional_quantity(key, rule::kVoltage);
  if (stated) return *stated;
  const double value = block * chemistry->*member;
  if (!reader.has(key)) reader.record_default(key, volts(value), chemistry->source);
  return value;
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

void read_open_circuit(Reader& reader, const Chemistry* chemistry, int block, model::Cell& cell) {
  const auto* items =
      chemistry == nullptr
          ? reader.list("open_circuit", "[[0 %, 2.80 V], [100 %, 3.45 V]]")
          : reader.optional_list("open_circuit", "[[0 %, 2.80 V], [100 %, 3.45 V]]");
  if (items != nullptr) {
    read_stated_curve(*items, reader.findings(), cell);
  } else if (chemistry != nullptr) {
    for (const auto& [soc, voltage] : chemistry->open_circuit) {
      cell.open_circuit.push_back({soc, block * voltage});
    }
    if (!reader.has("open_circuit")) {
      reader.record_default("open_circuit", "the curve of " + std::string(chemistry->name),
                            chemistry->open_circuit_source);
    }
  }
}

void read_usable(Reader& reader, const Chemistry* chemistry, model::Cell& cell) {
  if (chemistry != nullptr && !reader.has("usable")) {
    cell.usable_from = chemistry->usable_from;
    cell.usable_to = chemistry->usable_to;
    reader.record_default(
        "usable",
        number_text(100 * cell.usable_from) + " % to " + number_text(100 * cell.usable_to) + " %",
        chemistry->source);
    return;
  }
  auto usable = reader.map("usable", "`usable` of the cell", "{from: 100 %, to: 15 %}");
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
  auto current = reader.map("current", "`current` of the cell",
                            "{continuous: 100 A, peak: 300 A, charge: 50 A}");
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
  }
  current->finish();
}

void read_peukert(Reader& reader, model::Cell& cell) {
  auto peukert = reader.optional_map("peukert", "`peukert` of the cell");
  if (!peukert) return;
  cell.peukert_exponent = peukert->number("exponent", rule::kPeukertExponent, "1.15").value_or(1);
  cell.rated_hours = peukert->number_or("hours", rule::kPeukertHours, "20", kCommonPractice);
  peukert->finish();
}

PackKit read_kit(Reader& reader) {
  PackKit kit;
  auto pack = reader.optional_map("pack", "`pack` of the cell");
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
  if (cell.open_circuit.empty() || cell.full_voltage <= 0 || cell.empty_voltage <= 0) return;
  reader.check_ascending("empty_voltage", cell.empty_voltage, "full_voltage", cell.full_voltage,
                         "a cell is full at a higher voltage than empty", true);
  if (cell.open_circuit.back().voltage > cell.full_voltage) {
    reader.error("full_voltage",
                 "`full_voltage` " + volts(cell.full_voltage) +
                     " lies under the open-circuit voltage of the full cell, " +
                     volts(cell.open_circuit.back().voltage),
                 "give the voltage at which charging ends");
  }
}

}  // namespace

void read_cell(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "cells", shelf);
  CellPart part;
  part.id = id;
  part.mark = node.mark;
  part.chemistry = reader.id("chemistry", "lfp").value_or("");
  const Chemistry* chemistry = find_chemistry(part.chemistry);
  model::Cell& cell = part.model;
  cell.capacity = reader.quantity("capacity", rule::kCapacity).value_or(0);
  cell.resistance = reader.quantity("resistance", rule::kResistance).value_or(0);
  const auto nominal = reader.optional_quantity("nominal_voltage", rule::kVoltage);
  const int block = cells_in_block(chemistry, nominal);
  read_open_circuit(reader, chemistry, block, cell);
  cell.full_voltage = per_cell(reader, "full_voltage", chemistry, &Chemistry::full_voltage, block);
  cell.empty_voltage =
      per_cell(reader, "empty_voltage", chemistry, &Chemistry::empty_voltage, block);
  check_voltages(reader, cell);
  read_usable(reader, chemistry, cell);
  read_current(reader, chemistry, cell);
  read_peukert(reader, cell);
  cell.nominal_voltage = nominal.value_or(0);
  if (!nominal && !cell.open_circuit.empty()) {
    const bool counted = part.chemistry == "lfp" || part.chemistry == "nmc";
    cell.nominal_voltage =
        counted ? chemistry->nominal_voltage : model::open_circuit_voltage(cell.open_circuit, 0.5);
    reader.record_default("nominal_voltage", volts(cell.nominal_voltage),
                          counted ? chemistry->source : "open-circuit voltage at 50 %");
  }
  part.mass = reader.quantity("mass", rule::kMass).value_or(0);
  part.price = reader.money("price", "95").value_or(0);
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
