#include "broken_files.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "spec/load.hpp"

namespace sprocketry::test {
namespace {

namespace fs = std::filesystem;

// An empty folder for one row, removed afterwards.
class Workplace {
 public:
  explicit Workplace(const std::map<std::string, std::string>& files) {
    path_ = fs::temp_directory_path() / ("sprocketry-broken-" + std::to_string(getpid()));
    fs::remove_all(path_);
    fs::create_directories(path_);
    for (const auto& [name, text] : files) {
      if (name.ends_with('/')) {
        fs::create_directories(path_ / name);
      } else {
        std::ofstream(path_ / name, std::ios::binary) << text;
      }
    }
  }
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;
  ~Workplace() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }

  [[nodiscard]] fs::path requirement() const { return path_ / "bike.yaml"; }

 private:
  fs::path path_;
};

// Whether a finding says what the row expects, where it expects it.
bool answers(const document::Diagnostic& finding, const BrokenFile& row) {
  const document::Mark& mark = finding.mark;
  if (finding.severity != document::Severity::kError) return false;
  if (!row.place.empty()) {
    if (mark.source == nullptr || mark.source->name.find(row.place) == std::string::npos) {
      return false;
    }
    if (row.line != 0 && mark.line != row.line) return false;
  }
  return finding.message.find(row.fragment) != std::string::npos ||
         finding.hint.find(row.fragment) != std::string::npos;
}

TEST(BrokenFiles, AreEditsOfFilesThatLoad) {
  const Workplace place(sound_files());
  document::Diagnostics diagnostics;
  EXPECT_TRUE(spec::load_job(place.requirement(), {}, diagnostics).has_value())
      << diagnostics.text();
  EXPECT_TRUE(diagnostics.all().empty()) << diagnostics.text();
}

TEST(BrokenFiles, AreAtLeastSeventyWithNamesOfTheirOwn) {
  const auto rows = broken_files();
  std::set<std::string> names;
  for (const BrokenFile& row : rows) names.insert(row.name);
  EXPECT_EQ(names.size(), rows.size());
  EXPECT_GE(rows.size(), 70U);
}

TEST(BrokenFiles, AreEachAnErrorAtItsLineThatSaysWhatIsWrong) {
  for (const BrokenFile& row : broken_files()) {
    SCOPED_TRACE(row.name);
    const Workplace place(row.files);
    document::Diagnostics diagnostics;
    EXPECT_FALSE(spec::load_job(place.requirement(), row.overrides, diagnostics).has_value());
    const auto& all = diagnostics.all();
    const bool answered =
        std::ranges::any_of(all, [&](const auto& finding) { return answers(finding, row); });
    EXPECT_TRUE(answered) << "wanted " << row.place << ":" << row.line << " \"" << row.fragment
                          << "\", found:\n"
                          << diagnostics.text();
    // One slip makes few messages; only an alias bomb is reported at each alias.
    EXPECT_LE(all.size(), 40U) << diagnostics.text(60);
  }
}

// Cutting a sound file anywhere must never crash, and never load in silence with keys missing.
TEST(BrokenFiles, TruncatedAnywhereNeverCrash) {
  for (const auto* name : {"bike.yaml", "parts.yaml"}) {
    const std::string text = sound_files().at(name);
    for (std::size_t length = 0; length < text.size(); length += 7) {
      auto files = sound_files();
      files[name] = text.substr(0, length);
      const Workplace place(files);
      document::Diagnostics diagnostics;
      const auto job = spec::load_job(place.requirement(), {}, diagnostics);
      EXPECT_NE(job.has_value(), diagnostics.has_errors()) << name << " cut at " << length;
      EXPECT_EQ(diagnostics.text().empty(), job.has_value());
    }
  }
}

// A byte replaced by one that means something in YAML, all over both files.
TEST(BrokenFiles, DisturbedAnywhereNeverCrash) {
  constexpr std::string_view kBytes = "{}[]:,-\"'#&*!|>%@`\t\n 0\x80";
  for (const auto* name : {"bike.yaml", "parts.yaml"}) {
    const std::string text = sound_files().at(name);
    for (std::size_t at = 0; at < text.size(); at += 3) {
      auto files = sound_files();
      files[name][at] = kBytes[(at / 3) % kBytes.size()];
      const Workplace place(files);
      document::Diagnostics diagnostics;
      const auto job = spec::load_job(place.requirement(), {}, diagnostics);
      EXPECT_NE(job.has_value(), diagnostics.has_errors()) << name << " changed at " << at;
    }
  }
}

}  // namespace
}  // namespace sprocketry::test
