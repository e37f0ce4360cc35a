#include "search/lock.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "document/digest.hpp"
#include "document/emit.hpp"
#include "document/file.hpp"
#include "parts/values.hpp"
#include "spec/metric_lists.hpp"

namespace sprocketry::search {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 4> kOutcomes = {"holds", "caution", "broken", "unchecked"};

// A path as it is written in a file beside `lock_file`.
std::string relative_to(const fs::path& path, const fs::path& lock_file) {
  const fs::path folder = fs::absolute(lock_file).parent_path();
  return fs::absolute(path).lexically_normal().lexically_proximate(folder.lexically_normal());
}

std::vector<LockedFile> locked_files(const LockInput& input) {
  std::vector<LockedFile> files;
  const auto add = [&](const char* role, const fs::path& path) {
    files.push_back({role, relative_to(path, input.lock_file),
                     document::sha256_of_file(path).value_or("unreadable")});
  };
  add("requirement", input.requirement_file);
  for (const fs::path& path : input.written.parts.files) add("parts", path);
  if (!input.written.trace.empty()) add("ride", input.written.trace);
  return files;
}

std::vector<std::string> lines_of_file(const fs::path& path) {
  document::Diagnostics ignored;
  std::vector<std::string> lines;
  if (path.empty()) return lines;
  const document::Source* source = document::read_file(path, path.string(), {}, ignored);
  if (source == nullptr) return lines;
  std::string line;
  for (const char c : source->text) {
    if (c != '\n' && c != '\r') {
      line += c;
    } else if (!line.empty()) {
      lines.push_back(std::exchange(line, {}));
    }
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

Outcome outcome(const rules::Row& row) {
  if (row.unchecked) return Outcome::kUnchecked;
  if (row.holds) return Outcome::kHolds;
  return row.kind == rules::Kind::kReject ? Outcome::kBroken : Outcome::kCaution;
}

}  // namespace

std::string_view name_of(Outcome outcome) { return kOutcomes[static_cast<std::size_t>(outcome)]; }

std::optional<Outcome> outcome_of(std::string_view name) {
  const auto found = std::ranges::find(kOutcomes, name);
  if (found == kOutcomes.end()) return std::nullopt;
  return static_cast<Outcome>(found - kOutcomes.begin());
}

document::Node moved_requirement(document::Node requirement, const fs::path& requirement_file,
                                 const fs::path& lock_file) {
  const fs::path folder = requirement_file.parent_path();
  const auto move = [&](document::Node& file) {
    file.scalar = relative_to(folder / file.scalar, lock_file);
  };
  for (document::Entry& entry : requirement.entries) {
    if (entry.key == "parts") std::ranges::for_each(entry.value.items, move);
    if (entry.key != "ride") continue;
    for (document::Entry& ride : entry.value.entries) {
      if (ride.key == "trace") move(ride.value);
    }
  }
  return requirement;
}

std::vector<Figure> figures_of(const Design& design) {
  std::vector<Figure> figures;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (info.json_key.empty()) continue;
    figures.push_back({std::string(info.json_key), info.value(design.metrics)});
  }
  spec::each_list(design.metrics, [&](const char* name, const auto& items, const auto& columns) {
    for (std::size_t i = 0; i < items.size(); ++i) {
      const std::string stem = std::string(name) + '_' + std::to_string(i + 1) + '_';
      for (const auto& column : columns) {
        figures.push_back({stem + std::string(column.key), column.value(items[i])});
      }
    }
  });
  figures.push_back({"settings_battery_current_a", design.settings.battery_current});
  figures.push_back({"settings_motor_current_a", design.settings.motor_current});
  figures.push_back({"settings_low_voltage_v", design.settings.low_voltage});
  if (const auto& charging = design.charging) {
    figures.push_back({"charging_from_the_wall_h", charging->charge.time / 3600});
    figures.push_back({"wall_consumption_wh_km", charging->wall_consumption / 3.6});
    figures.push_back({std::string(kWallCost), charging->cost_per_distance * 1e5});
  }
  const auto& fit = design.chain.fit;
  figures.push_back({"chain_links", fit ? static_cast<double>(fit->links) : model::kNone});
  figures.push_back({"chain_centre_distance_mm", fit ? fit->centre_distance * 1000 : model::kNone});
  return figures;
}

std::vector<LockedRule> rules_of(const Design& design) {
  std::vector<LockedRule> list;
  for (const rules::Row& row : design.rows) {
    list.push_back({std::string(row.rule), row.about, std::string(row.unit), row.value, row.limit,
                    row.margin, outcome(row)});
  }
  return list;
}

double Tolerance::allowed(double value) const { return std::max(amount, share * std::abs(value)); }

const Tolerance& Tolerances::of(std::string_view key) const {
  const auto found =
      std::ranges::find_if(single, [&](const auto& one) { return one.first == key; });
  return found == single.end() ? usual : found->second;
}

std::string text_of(const Tolerance& tolerance) {
  if (tolerance.share > 0 || tolerance.amount == 0) {
    return parts::number_text(tolerance.share * 100) + " %";
  }
  return parts::number_text(tolerance.amount);
}

std::optional<Tolerance> parse_tolerance(const std::string& text) {
  constexpr double kMost = 1e9;
  if (const auto amount = parts::decimal(text)) {
    if (*amount < 0 || *amount > kMost) return std::nullopt;
    return Tolerance{0, *amount};
  }
  const auto share = units::parse(text, units::Dimension::kRatio);
  if (!share || share->value < 0 || share->value > kMost) return std::nullopt;
  return Tolerance{share->value, 0};
}

std::vector<parts::WrittenPart> entries_of(const Design& design, const document::Node& requirement,
                                           const std::vector<parts::WrittenPart>& entries) {
  const rules::Selection& s = design.parts;
  std::set<std::string_view> names = {s.motor->id, s.controller->id, s.pack->id, s.pack->cell_id,
                                      s.chain->id, s.front->id,      s.rear->id};
  if (s.charger != nullptr) names.insert(s.charger->id);
  for (const parts::Extra* extra : design.extras) names.insert(extra->id);
  const document::Node* bike = requirement.find("bike");
  const document::Node* tyre = bike == nullptr ? nullptr : bike->find("tyre");
  const document::Node* size = tyre == nullptr ? nullptr : tyre->find("size");
  std::vector<parts::WrittenPart> chosen;
  std::ranges::copy_if(entries, std::back_inserter(chosen), [&](const parts::WrittenPart& part) {
    if (part.list == "tyres") return size != nullptr && size->scalar == part.name;
    return names.contains(part.name);
  });
  return chosen;
}

Lock make_lock(const Design& design, const LockInput& input) {
  Lock lock;
  lock.model = input.model;
  lock.design = rules::design_id(design.parts);
  lock.set = input.set;
  lock.files = locked_files(input);
  lock.requirement =
      moved_requirement(input.written.requirement, input.requirement_file, input.lock_file);
  lock.parts = entries_of(design, input.written.requirement, input.written.parts.entries);
  lock.trace = lines_of_file(input.written.trace);
  lock.figures = figures_of(design);
  lock.rules = rules_of(design);
  lock.tolerances = input.tolerances;
  return lock;
}

}  // namespace sprocketry::search
