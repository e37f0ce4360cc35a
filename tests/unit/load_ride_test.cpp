#include "load_support.hpp"
#include "spec/cycles.hpp"

namespace sprocketry::test {
namespace {

TEST(LoadRide, BuiltInCyclesAreNamed) {
  for (const spec::Cycle& cycle : spec::cycles()) {
    Loaded loaded;
    load_into(loaded,
              std::string(kTinyRequirement) + "ride: {cycle: " + std::string(cycle.id) + "}\n",
              kTinyParts);
    EXPECT_LOADS(loaded);
    EXPECT_EQ(loaded.requirement().ride_name, cycle.id);
    ASSERT_EQ(loaded.requirement().ride.size(), cycle.speed.size());
    EXPECT_EQ(loaded.requirement().ride[40].speed, cycle.speed[40]);
  }
}

void load_trace(Loaded& loaded, std::string_view csv) {
  const Folder folder;
  folder.write("bike.yaml", std::string(kTinyRequirement) + "ride: {trace: rides/a.csv}\n");
  folder.write("parts.yaml", kTinyParts);
  folder.write("rides/a.csv", csv);
  load_into(loaded, folder);
}

TEST(LoadRide, ATraceIsReadFromCsvBesideTheRequirement) {
  Loaded loaded;
  load_trace(loaded, "time_s,speed_km_h,grade_percent\n0,0,0\n10,72,5\n20.5,36,-5\n");
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().ride_name, "rides/a.csv");
  const model::Profile& ride = loaded.requirement().ride;
  ASSERT_EQ(ride.size(), 3U);
  EXPECT_EQ(ride[1].speed, 20);
  EXPECT_EQ(ride[1].grade, 0.05);
  EXPECT_EQ(ride[2].time, 20.5);
  EXPECT_EQ(ride[2].speed, 10);
  EXPECT_EQ(ride[2].grade, -0.05);
}

TEST(LoadRide, ATraceMayBeInMilesPerHourOrMetresPerSecond) {
  Loaded mph;
  load_trace(mph, "time_s,speed_mph\n0,0\n10,10\n");
  EXPECT_LOADS(mph);
  EXPECT_DOUBLE_EQ(mph.requirement().ride[1].speed, 4.4704);
  Loaded si;
  load_trace(si, "speed_m_s,time_s\n0,0\n12.5,10\n");
  EXPECT_LOADS(si);
  EXPECT_EQ(si.requirement().ride[1].speed, 12.5);
}

TEST(LoadRide, BrokenTracesAreReportedAtTheirCell) {
  const std::tuple<const char*, std::size_t, const char*> traces[] = {
      {"time_s,speed_km_h\n0,0\n", 1, "fewer than 2 rows"},
      {"time_s,speed_km_h\n0,0\n1,5\n1,6\n", 4, "time does not rise"},
      {"time_s,speed_km_h\n0,0\n1,0\n", 2, "no distance"},
      {"time_s,speed_km_h\n0,0\n1,-5\n", 3, "from 0 km/h"},
      {"time_s,speed_km_h\n0,0\n1,fast\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\n1,72 km/h\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\nnan,5\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\n1,1e9\n", 3, "to 540 km/h"},
      {"time_s,speed_kmh\n0,0\n1,5\n", 1, "did you mean `speed_km_h`"},
      {"time_s,grade_percent\n0,0\n1,5\n", 1, "lacks the column `speed_km_h`"},
      {"speed_km_h\n0\n1\n", 1, "lacks the column `time_s`"},
      {"time_s,speed_km_h,speed_mph\n0,0,0\n1,5,3\n", 1, "second column of speeds"},
      {"time_s,speed_km_h,grade_percent\n0,0,0\n1,5,90\n", 3, "from -50 to 60"},
      {"time_s,speed_km_h\n0,0\n1\n", 3, ""},
      {"", 0, ""},
  };
  for (const auto& [csv, line, fragment] : traces) {
    Loaded loaded;
    load_trace(loaded, csv);
    EXPECT_FALSE(loaded.job.has_value()) << csv;
    ASSERT_EQ(loaded.diagnostics.all().size(), 1U) << csv << "\n" << loaded.text();
    const document::Diagnostic& finding = loaded.diagnostics.all().front();
    EXPECT_TRUE(finding.mark.source->name.ends_with("rides/a.csv") || line == 0);
    if (line > 0) {
      EXPECT_EQ(finding.mark.line, line) << csv;
    }
    EXPECT_NE((finding.message + finding.hint).find(fragment), std::string::npos) << csv << "\n"
                                                                                  << loaded.text();
  }
}

TEST(LoadRide, AMissingTraceIsReportedWhereItIsNamed) {
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "ride: {trace: none.csv}\n", kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, "none.csv"));
}

TEST(LoadCruise, NamesEachSpeedOnceInWhateverUnit) {
  for (const auto* again : {"36 km/h", "10 m/s"}) {
    Loaded loaded;
    load_into(
        loaded,
        std::string(kTinyRequirement) + "cruise:\n  - 36 km/h\n  - 20 m/s\n  - " + again + "\n",
        kTinyParts);
    ASSERT_TRUE(one_error(loaded, "bike.yaml", 13, "named twice")) << again;
    EXPECT_EQ(loaded.diagnostics.all().front().second_mark.value().line, 11U);
  }
}

}  // namespace
}  // namespace sprocketry::test
