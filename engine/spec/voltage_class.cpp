#include "spec/voltage_class.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "parts/limits.hpp"
#include "parts/voltage_class.hpp"

namespace sprocketry::spec {
namespace {

void sort_each_once(std::vector<double>& values) {
  std::ranges::sort(values);
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

std::vector<double> generated_voltages(const PackChoice& choice,
                                       const parts::Catalogue& catalogue) {
  std::vector<double> cells;
  for (const parts::CellPart& cell : catalogue.cells) {
    const bool chosen =
        !choice.cells || std::ranges::find(*choice.cells, cell.id) != choice.cells->end();
    if (chosen) cells.push_back(cell.model.nominal_voltage);
  }
  sort_each_once(cells);
  std::vector<int> series(static_cast<std::size_t>(parts::limits::cell::kSeries.max));
  std::iota(series.begin(), series.end(), 1);
  if (choice.series) series = *choice.series;
  std::vector<double> voltages;
  for (const double cell : cells) {
    for (const int count : series) voltages.push_back(count * cell);
  }
  return voltages;
}

std::vector<double> named_voltages(const parts::Catalogue& catalogue) {
  std::vector<double> voltages;
  for (const parts::NamedPack& pack : catalogue.packs) {
    const parts::CellPart* cell = catalogue.find_cell(pack.cell_id);
    if (cell != nullptr) voltages.push_back(pack.series * cell->model.nominal_voltage);
  }
  return voltages;
}

std::string nearest_text(const std::vector<double>& voltages, double to) {
  if (voltages.empty()) return "there is no pack to choose from";
  const double nearest = *std::ranges::min_element(
      voltages, {}, [&](double voltage) { return std::abs(voltage - to); });
  return "the nearest has " + parts::number_text(nearest) + " V nominal";
}

}  // namespace

void warn_of_empty_classes(const std::vector<VoltageClass>& classes, const PackChoice& choice,
                           bool generates, const parts::Catalogue& catalogue, Findings& findings) {
  std::vector<double> voltages =
      generates ? generated_voltages(choice, catalogue) : named_voltages(catalogue);
  sort_each_once(voltages);
  std::vector<double> named;
  named.reserve(classes.size());
  for (const VoltageClass& one : classes) named.push_back(one.voltage);
  std::vector<double> met;
  for (const double voltage : voltages) {
    if (const auto found = parts::voltage_class(named, voltage)) met.push_back(*found);
  }
  for (const VoltageClass& one : classes) {
    if (std::ranges::find(met, one.voltage) != met.end()) continue;
    findings.diagnostics.warning(one.node->mark, "no pack falls into the class " + one.node->scalar,
                                 "a pack counts to the nearest class, within 15 % of it; " +
                                     nearest_text(voltages, one.voltage));
  }
}

}  // namespace sprocketry::spec
