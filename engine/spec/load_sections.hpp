#pragma once

#include <filesystem>
#include <string>

#include "document/csv.hpp"
#include "parts/reader.hpp"
#include "spec/requirement.hpp"

// How the loader of a requirement is divided; one function per section of the file. Each takes its
// keys from the reader of the root and fills its part of the requirement.
namespace sprocketry::spec {

using parts::Findings;
using parts::Reader;

inline constexpr std::string_view kCommonPractice = "common practice, no source";

// What the sections may consult. `ids_known` is false when a parts file could not be read, so that
// an id may exist that the catalogue lacks.
struct Surrounding {
  const parts::Catalogue& catalogue;
  bool ids_known = true;
  std::filesystem::path folder;             // of the requirement
  std::filesystem::path shown_folder;       // the same as the person wrote it
  const document::Source* trace = nullptr;  // the text of the ride's file, when it is kept
};

void read_bike(Reader& root, const Surrounding& around, Requirement& requirement);
void read_road(Reader& bike, Requirement& requirement);
void read_tyre(Reader& bike, const Surrounding& around, Requirement& requirement);
// `primary` of the bike: the stage before the chain.
void read_primary(Reader& bike, Bike& result);
// `space` of the bike: the boxes for the battery, the room for the motor.
void read_space(Reader& bike, Bike& result);
// `chain_line` of the bike.
void read_chain_line(Reader& bike, Bike& result);
// `swing_arm` of the bike, checked against the centre distance, which must have been read.
void read_swing_arm(Reader& bike, Bike& result);
void read_loads(Reader& root, Requirement& requirement);
void read_conditions(Reader& root, Requirement& requirement);
void read_ride(Reader& root, const Surrounding& around, Requirement& requirement);
void read_speeds(Reader& root, Requirement& requirement);
void read_must(Reader& root, Requirement& requirement);
// `vehicle_class` of `must`.
void read_vehicle_class(Reader& must, Demands& demands);
void read_charging(Reader& root, Requirement& requirement);
// `owned` and `choose`: everything that names parts.
void read_owned(Reader& root, const Surrounding& around, Requirement& requirement);
void read_choose(Reader& root, const Surrounding& around, Requirement& requirement);
void read_objectives(Reader& root, Requirement& requirement);
// `spread`: which of these inputs (ascending by path) are uncertain, and how. `all_known` is false
// when some could not be read.
void read_spread(Reader& root, const std::vector<parts::Input>& inputs, bool all_known,
                 Requirement& requirement);

// A profile from CSV with the columns time_s, one of speed_km_h, speed_mph, speed_m_s, and
// optionally grade_percent. Empty after an error.
model::Profile load_trace(const std::filesystem::path& path, const std::string& shown_name,
                          const document::Mark& mentioned, Findings& findings);
model::Profile read_trace(const document::CsvTable& table, Findings& findings);

// The units in which the person wrote, by the first use of each in the requirement itself.
DisplayUnits display_units(const std::vector<parts::WrittenUnit>& written,
                           const document::Source* requirement);

}  // namespace sprocketry::spec
