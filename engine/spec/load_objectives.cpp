#include <algorithm>

#include "spec/load_sections.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::spec {
namespace {

constexpr std::size_t kFewest = 2;
constexpr std::size_t kMost = 6;

std::vector<std::string_view> objective_names() {
  std::vector<std::string_view> names;
  for (const MetricInfo& metric : metric_table()) {
    if (metric.objective) names.push_back(metric.name);
  }
  names.push_back(confidence_metric().name);
  return names;
}

// A metric over a list that the requirement leaves empty would not exist for any design.
void check_has_data(const document::Node& item, const Requirement& requirement,
                    Findings& findings) {
  const std::string& name = item.scalar;
  if (name == "cruise_current" && requirement.cruise.empty()) {
    findings.diagnostics.error(item.mark, "the objective `cruise_current` needs `cruise`",
                               "add a line such as `cruise: [40 km/h]`");
  }
  if (name.starts_with("climb_") && requirement.must.climbs.empty()) {
    findings.diagnostics.error(
        item.mark, "the objective `" + name + "` needs `must.climbs`",
        "add under `must` a line such as `climbs: [{grade: 12 %, speed: 30 km/h, for: 3 min}]`");
  }
}

// True when the name may stand there.
bool check_name(const std::vector<document::Node>& items, std::size_t at, Findings& findings) {
  const document::Node& item = items[at];
  if (!parts::read_choice(item, "objectives", objective_names(), findings)) return false;
  for (std::size_t i = 0; i < at; ++i) {
    if (items[i].scalar != item.scalar) continue;
    findings.diagnostics.add({document::Severity::kError, item.mark,
                              "the objective `" + item.scalar + "` is named twice",
                              "name each objective once", items[i].mark, "first named here"});
    return false;
  }
  return true;
}

}  // namespace

void read_objectives(Reader& root, Requirement& requirement) {
  const auto* items = root.optional_list("objectives", "[pull_away, range, price]");
  if (items == nullptr) {
    requirement.objectives = {"pull_away", "range", "price"};
    if (!root.has("objectives")) {
      root.record_default("objectives", "pull_away, range, price", kCommonPractice);
    }
    return;
  }
  for (std::size_t i = 0; i < items->size(); ++i) {
    if (!check_name(*items, i, root.findings())) continue;
    check_has_data((*items)[i], requirement, root.findings());
    if ((*items)[i].scalar == confidence_metric().name) {
      requirement.confidence = true;
    } else {
      requirement.objectives.push_back((*items)[i].scalar);
    }
  }
  if (items->size() < kFewest || items->size() > kMost) {
    root.error("objectives",
               "`objectives` names " + std::to_string(items->size()) + "; it must name from " +
                   std::to_string(kFewest) + " to " + std::to_string(kMost),
               "the front shows what is given up of one for another, such as [pull_away, range, "
               "price]");
  } else if (requirement.confidence && items->size() == kFewest) {
    root.error("objectives", "`objectives` names one besides `confidence`; it must name two",
               "the front shows what is given up of one for another, such as [range, price, "
               "confidence]");
  }
}

}  // namespace sprocketry::spec
