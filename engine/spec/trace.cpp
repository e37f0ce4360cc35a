#include <algorithm>
#include <array>

#include "document/csv.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::riding;

using Cell = document::CsvTable::Cell;

struct SpeedColumn {
  std::string_view name;
  std::string_view symbol;
};
constexpr std::array kSpeedColumns = {SpeedColumn{"speed_km_h", "km/h"},
                                      SpeedColumn{"speed_mph", "mph"},
                                      SpeedColumn{"speed_m_s", "m/s"}};

struct Columns {
  std::optional<std::size_t> time;
  std::optional<std::size_t> speed;
  std::optional<std::size_t> grade;
  std::string_view speed_symbol;
};

// Takes one column; false when its name says nothing.
bool take_column(const Cell& cell, std::size_t at, Columns& columns, Findings& findings) {
  if (cell.text == "time_s") columns.time = at;
  if (cell.text == "grade_percent") columns.grade = at;
  const auto speed = std::ranges::find(kSpeedColumns, cell.text, &SpeedColumn::name);
  if (speed != kSpeedColumns.end()) {
    if (columns.speed) {
      findings.diagnostics.error(cell.mark, "a second column of speeds", "keep one of them");
    }
    columns.speed = at;
    columns.speed_symbol = speed->symbol;
  }
  return cell.text == "time_s" || cell.text == "grade_percent" || speed != kSpeedColumns.end();
}

// Nothing when a column is missing or unknown.
std::optional<Columns> find_columns(const document::CsvTable& table, Findings& findings) {
  constexpr std::string_view kExample =
      "the first row names the columns: time_s,speed_km_h or time_s,speed_km_h,grade_percent";
  Columns columns;
  bool known = true;
  for (std::size_t i = 0; i < table.header.size(); ++i) {
    const Cell& cell = table.header[i];
    if (take_column(cell, i, columns, findings)) continue;
    known = false;
    std::string hint = parts::did_you_mean(
        cell.text, {"time_s", "speed_km_h", "speed_mph", "speed_m_s", "grade_percent"});
    if (hint.empty()) hint = kExample;
    findings.diagnostics.error(cell.mark, "unknown column `" + cell.text + "`", std::move(hint));
  }
  if (!known) return {};
  if (columns.time && columns.speed) return columns;
  findings.diagnostics.error(table.header.front().mark,
                             std::string("the profile lacks the column `") +
                                 (columns.time ? "speed_km_h" : "time_s") + "`",
                             std::string(kExample));
  return {};
}

document::Node scalar(const Cell& cell) {
  document::Node node;
  node.kind = document::NodeKind::kScalar;
  node.mark = cell.mark;
  node.scalar = cell.text;
  return node;
}

// Goes through the unit reader, so that 72 km/h is 20 m/s here too.
std::optional<double> read_speed(const Cell& cell, std::string_view symbol, Findings& findings) {
  if (!parts::decimal(cell.text)) {
    return parts::read_number(scalar(cell), "speed", {0, 1e6}, findings);
  }
  document::Node node = scalar(cell);
  node.scalar += " " + std::string(symbol);
  return parts::read_quantity(node, "speed", rule::kTraceSpeed, findings);
}

std::optional<model::ProfileSample> read_row(const std::vector<Cell>& row, const Columns& columns,
                                             Findings& findings) {
  const auto time =
      parts::read_number(scalar(row[*columns.time]), "time_s", rule::kTraceTime, findings);
  const auto speed = read_speed(row[*columns.speed], columns.speed_symbol, findings);
  std::optional<double> grade = 0.0;
  if (columns.grade) {
    grade = parts::read_number(scalar(row[*columns.grade]), "grade_percent", rule::kTraceGrade,
                               findings);
  }
  if (!time || !speed || !grade) return {};
  return model::ProfileSample{*time, *speed, *grade / 100.0};
}

}  // namespace

model::Profile load_trace(const std::filesystem::path& path, const std::string& shown_name,
                          const document::Mark& mentioned, Findings& findings) {
  const auto table = document::load_csv(path, shown_name, mentioned, findings.diagnostics);
  return table ? read_trace(*table, findings) : model::Profile{};
}

model::Profile read_trace(const document::CsvTable& table, Findings& findings) {
  auto& diagnostics = findings.diagnostics;
  const auto columns = find_columns(table, findings);
  if (!columns) return {};
  if (table.rows < 2) {
    diagnostics.error(table.header.front().mark, "the profile has fewer than 2 rows",
                      "a ride needs at least a first and a last sample");
    return {};
  }
  model::Profile profile;
  bool moves = false;
  const auto rows = document::all_cells(table);
  for (const auto& row : rows) {
    const auto sample = read_row(row, *columns, findings);
    if (!sample) continue;
    if (!profile.empty() && sample->time <= profile.back().time) {
      diagnostics.error(row[*columns->time].mark,
                        "time does not rise: " + row[*columns->time].text + " s after " +
                            parts::number_text(profile.back().time) + " s",
                        "each row needs a later time than the row before");
      continue;
    }
    moves = moves || sample->speed > 0;
    profile.push_back(*sample);
  }
  if (!moves && profile.size() == rows.size()) {
    diagnostics.error(rows.front()[*columns->speed].mark, "the profile covers no distance",
                      "at least one speed must be above 0");
  }
  return profile;
}

}  // namespace sprocketry::spec
