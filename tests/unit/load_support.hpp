#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"
#include "parts/load.hpp"
#include "spec/load.hpp"

// What the tests of the loaders share: small valid files and a folder of their own to put them in.
// All makers and parts are invented.
namespace sprocketry::test {

// A requirement that lives on defaults.
inline constexpr std::string_view kTinyRequirement = R"(sprocketry: 1
parts: [parts.yaml]
bike:
  mass: 96 kg
  tyre: {rollout: 1.94 m}
  centre_distance: {min: 560 mm, max: 590 mm}
rider: {mass: 80 kg}
must:
  top_speed: {min: 70 km/h}
)";

// One part a slot, with every key that has no default.
inline constexpr std::string_view kTinyParts = R"(motors:
  - id: hollin-48
    kind: brushed
    speed_constant: 62 rpm/V
    resistance: 14 mohm
    no_load: [{voltage: 48 V, current: 5 A}]
    max_voltage: 90 V
    max_speed: 6000 rpm
    current: {continuous: 110 A, peak: 280 A}
    mass: 11.5 kg
    price: 640
controllers:
  - id: vane-200
    drives: [brushed]
    voltage: {min: 36 V, max: 90 V}
    current: {battery: 200 A, motor: 300 A}
    mass: 1.9 kg
    price: 260
cells:
  - id: slate-100
    chemistry: lfp
    capacity: 100 Ah
    resistance: 0.7 mohm
    current: {continuous: 100 A, peak: 300 A}
    mass: 2.0 kg
    price: 95
packs:
  - {id: slate-block, cell: slate-100, series: 16, parallel: 1}
chains:
  - {id: linkage-420, size: "420", links: 130, price: 26}
front_sprockets:
  - {id: pinion-420, size: "420", teeth: {from: 12, to: 17}, price: 10, mass: 0.5 kg}
rear_sprockets:
  - {id: crown-420, size: "420", teeth: {from: 40, to: 72}, price: 30, mass: 0.8 kg}
)";

// `text` with the first occurrence of `from` replaced; a test that edits nothing is a mistake.
inline std::string edited(std::string_view text, std::string_view from, std::string_view to) {
  std::string result(text);
  const std::size_t at = result.find(from);
  EXPECT_NE(at, std::string::npos) << "the text to replace is not there: " << from;
  if (at != std::string::npos) result.replace(at, from.size(), to);
  return result;
}

// A folder that lives as long as this object.
class Folder {
 public:
  Folder() {
    static int count = 0;
    path_ = std::filesystem::temp_directory_path() /
            ("sprocketry-load-" + std::to_string(getpid()) + "-" + std::to_string(count++));
    std::filesystem::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  void write(const std::string& name, std::string_view text) const {
    std::filesystem::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name, std::ios::binary) << text;
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

// A loaded requirement with what was found on the way.
struct Loaded {
  document::Diagnostics diagnostics;
  std::optional<spec::Job> job;

  [[nodiscard]] const spec::Requirement& requirement() const { return job.value().requirement; }
  [[nodiscard]] const parts::Catalogue& catalogue() const { return job.value().catalogue; }
  [[nodiscard]] std::string text() const { return diagnostics.text(); }
};

inline void load_into(Loaded& loaded, const Folder& folder,
                      const std::vector<std::string>& overrides = {}) {
  loaded.job = spec::load_job(folder.path() / "bike.yaml", overrides, loaded.diagnostics);
}

inline void load_into(Loaded& loaded, std::string_view requirement, std::string_view parts,
                      const std::vector<std::string>& overrides = {}) {
  const Folder folder;
  folder.write("bike.yaml", requirement);
  folder.write("parts.yaml", parts);
  load_into(loaded, folder, overrides);
}

// The requirement, or a test failure with all that was reported.
#define EXPECT_LOADS(loaded) ASSERT_TRUE((loaded).job.has_value()) << (loaded).text()

// True when exactly one error was found, at this file and line, whose message or hint contains the
// fragment.
inline ::testing::AssertionResult one_error(const Loaded& loaded, std::string_view file,
                                            std::size_t line, std::string_view fragment) {
  const auto& all = loaded.diagnostics.all();
  const bool single = all.size() == 1 && !loaded.job;
  if (single) {
    const document::Diagnostic& finding = all.front();
    const bool place = finding.mark.source != nullptr && finding.mark.line == line &&
                       finding.mark.source->name.ends_with(file);
    const bool words = finding.message.find(fragment) != std::string::npos ||
                       finding.hint.find(fragment) != std::string::npos;
    if (place && words) return ::testing::AssertionSuccess();
  }
  return ::testing::AssertionFailure() << "wanted one error at " << file << ":" << line
                                       << " with \"" << fragment << "\", found:\n"
                                       << loaded.text();
}

// The default recorded for a key, or nullptr.
inline const parts::Default* find_default(const std::vector<parts::Default>& defaults,
                                          std::string_view key) {
  const auto found = std::ranges::find(defaults, key, &parts::Default::key);
  return found == defaults.end() ? nullptr : &*found;
}

}  // namespace sprocketry::test
