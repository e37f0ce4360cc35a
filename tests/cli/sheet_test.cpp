#include <gtest/gtest.h>
#include <libxml/parser.h>

#include <filesystem>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words sheet(const Workplace& place, const Words& more) {
  Words words = {"sheet", place.bike(), "--pick", kDesign};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json sheet_json(const Workplace& place, Words more = {}) {
  more.insert(more.end(), {"--format", "json"});
  return json_of(sheet(place, more));
}

double order_sum(const Json& answer) {
  double sum = 0;
  for (const Json& line : answer["order"]) {
    EXPECT_NEAR(line["each"].get<double>() * line["quantity"].get<int>(), line["sum"].get<double>(),
                1e-9);
    sum += line["sum"].get<double>();
  }
  return sum;
}

const Json& line_of(const Json& answer, const std::string& id) {
  for (const Json& line : answer["order"]) {
    if (line["id"] == id) return line;
  }
  ADD_FAILURE() << "nothing ordered under " << id;
  return answer["order"].front();
}

TEST(Sheet, OrdersJustWhatThePriceCounts) {
  const Workplace place;
  const Json answer = sheet_json(place);
  EXPECT_NEAR(order_sum(answer), answer["design"]["metrics"]["price"].get<double>(), 1e-9);
  EXPECT_NEAR(answer["order_price"].get<double>(), order_sum(answer), 1e-9);
  EXPECT_EQ(line_of(answer, "flint-60")["quantity"], 16);
}

TEST(Sheet, CountsOwnedPartsAtNothing) {
  const Workplace place;
  const Json before = sheet_json(place);
  const Json after = sheet_json(place, {"--set", "owned=[alder-4, flint-60, pull-420]"});
  for (const char* id : {"alder-4", "flint-60", "pull-420"}) {
    EXPECT_FALSE(line_of(before, id)["owned"].get<bool>());
    EXPECT_TRUE(line_of(after, id)["owned"].get<bool>()) << id;
    EXPECT_EQ(line_of(after, id)["sum"], 0) << id;
  }
  EXPECT_LT(order_sum(after), order_sum(before));
  EXPECT_NEAR(order_sum(after), after["design"]["metrics"]["price"].get<double>(), 1e-9);
}

TEST(Sheet, HasASchemaAndKeepsIt) {
  const Workplace place;
  const Schema schema("sheet");
  EXPECT_EQ(schema.problems(sheet_json(place)), "");
  EXPECT_EQ(schema.problems(sheet_json(place, {"--rules", "all"})), "");
  place.edit("parts.yaml", "mass: 2.1 kg, price: 390",
             "capacitance: 5 mF, mass: 2.1 kg, price: 390");
  const Json with = sheet_json(place);
  EXPECT_EQ(schema.problems(with), "");
  EXPECT_FALSE(with["wiring"]["precharge"].is_null());
  Json broken = with;
  broken["wiring"].erase("fuse_a");
  EXPECT_NE(schema.problems(broken), "");
}

TEST(Sheet, SizesFuseAndCableForTheSetCurrent) {
  const Workplace place;
  const Json answer = sheet_json(place);
  const Json& wiring = answer["wiring"];
  const double set = answer["design"]["settings"]["battery_current_a"].get<double>();
  EXPECT_EQ(wiring["battery_current_a"], set);
  EXPECT_GE(wiring["fuse_a"].get<double>() * 0.8, set);
  // ABYC E-11 leaves 85 % of a cable's ampacity beside an engine.
  EXPECT_GE(wiring["battery_cable"]["ampacity_a"].get<double>() * 0.85, wiring["fuse_a"]);
  // What a fuse must break is what the pack gives at its best, whatever the day.
  const Json cold =
      sheet_json(place, {"--set", "conditions.pack={temperature: -10 degC, health: 60 %}"});
  EXPECT_EQ(cold["wiring"]["short_circuit_a"], wiring["short_circuit_a"]);
}

// A reading that the settings do not let happen is not expected.
TEST(Sheet, ExpectsNoCurrentWhereTheControllerHoldsBack) {
  const Workplace place;
  const Json answer = sheet_json(place);
  const double stop = answer["design"]["settings"]["low_voltage_v"].get<double>();
  const std::string raise = std::to_string(stop * 1.2) + " V";
  place.edit("parts.yaml", "voltage: {min: 36 V", "voltage: {min: " + raise);
  const Outcome low = run(sheet(place, {}));
  EXPECT_TRUE(contains(low.out, "it holds back below")) << low.out;
}

// More than any single fuse or cable of the tables: said, not passed over.
TEST(Sheet, SaysWhereNoSingleCableIsEnough) {
  const Workplace place;
  const Outcome outcome = run(sheet(place, {}));
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "main fuse, at the pack"));
  EXPECT_TRUE(contains(outcome.out, "state the controller's capacitance"));
  for (const char* word :
       {"Order list", "Chain and sprockets", "Hub and key", "Alignment and tension",
        "Settings to type in", "Electrical ratings", "Before the first spin", "What to expect",
        "kill switch", "pinch", "capacitors", "0 degC", "unattended", "wheel off the ground",
        "connecting link", "local law", "10 to 20 %", "20 %, stop and look"}) {
    EXPECT_TRUE(contains(outcome.out, word)) << word;
  }
}

// The steady draw is the cruise metric of the same speed.
TEST(Sheet, ExpectsWhatTheCruiseMetricsSay) {
  const Workplace place;
  const Json answer = sheet_json(place, {"--set", "cruise=[40 km/h, 55 km/h]"});
  int compared = 0;
  for (const Json& cruise : answer["design"]["metrics"]["cruise"]) {
    for (const Json& at : answer["expect"]["speeds"]) {
      if (std::abs(at["speed_km_h"].get<double>() - cruise["speed_km_h"].get<double>()) > 1e-6)
        continue;
      ++compared;
      EXPECT_NEAR(at["battery_current_a"].get<double>(), cruise["battery_current_a"].get<double>(),
                  1e-9);
      EXPECT_NEAR(at["motor_current_a"].get<double>(), cruise["motor_current_a"].get<double>(),
                  1e-9);
      EXPECT_NEAR(at["motor_rpm"].get<double>(), cruise["motor_rpm"].get<double>(), 1e-6);
    }
  }
  EXPECT_EQ(compared, 2);
}

// The speeds of the rows of steady riding.
Words steady_speeds(const std::string& sheet) {
  Words speeds;
  for (const std::string& line : lines_of(sheet)) {
    const std::size_t begin = line.find("steady ");
    const std::size_t end = line.find(" on the flat");
    if (begin == std::string::npos || end == std::string::npos) continue;
    speeds.push_back(line.substr(begin + 7, end - begin - 7));
  }
  return speeds;
}

TEST(Sheet, TriesRoundSpeedsInTheUnitOfTheRequirementAndNoneNearACruise) {
  const Workplace place;
  const auto with = [&](const std::string& cruise) {
    const Outcome outcome = run(sheet(place, {"--set", "cruise=" + cruise}));
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.out;
  };
  EXPECT_EQ(steady_speeds(with("[55 km/h]")), (Words{"40 km/h", "55 km/h", "70 km/h"}));
  EXPECT_EQ(steady_speeds(with("[42 km/h, 55 km/h]")), (Words{"42 km/h", "55 km/h", "70 km/h"}));
  place.edit("bike.yaml", "cruise: [40 km/h, 65 km/h]", "cruise: [24 mph, 35 mph]");
  place.edit("bike.yaml", "range: {min: 20 km}", "range: {min: 12 mi}");
  const std::string miles = run(sheet(place, {})).out;
  EXPECT_EQ(steady_speeds(miles), (Words{"24 mph", "35 mph", "45 mph"}));
  EXPECT_TRUE(contains(miles, "after the first 30 mi:")) << miles;
}

TEST(Sheet, SaysWhenTheDesignMustNotBeBuilt) {
  const Workplace place;
  const Outcome outcome = run(sheet(place, {"--set", "must.price.max=1"}));
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(contains(outcome.out, "DO NOT BUILD: must price"));
}

// The page is well-formed XML but for its first line and the two void elements of its head.
std::string as_xml(std::string page) {
  page.erase(0, page.find("<html"));
  for (const char* element :
       {"<meta charset=\"utf-8\">", "<meta name=\"viewport\" content=\"width=device-width\">"}) {
    const auto at = page.find(element);
    if (at != std::string::npos) page.erase(at, std::string(element).size());
  }
  return page;
}

TEST(Sheet, PrintsOnTheChosenPaper) {
  const Workplace place;
  for (const auto& [paper, size] :
       {std::pair<std::string, std::string>{"a4", "size:A4"}, {"letter", "size:letter"}}) {
    const Outcome outcome = run(sheet(place, {"--format", "html", "--paper", paper}));
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_TRUE(contains(outcome.out, "@page{" + size));
    const std::string page = as_xml(outcome.out);
    xmlDoc* document = xmlReadMemory(page.data(), static_cast<int>(page.size()), "sheet", nullptr,
                                     XML_PARSE_NONET);
    EXPECT_NE(document, nullptr);
    xmlFreeDoc(document);
  }
}

// Its pages as a browser prints them, where there is one.
TEST(Sheet, IsAFewPagesInABrowser) {
  const char* const browser = "/usr/bin/chromium";
  if (!std::filesystem::exists(browser) || !std::filesystem::exists("/usr/bin/pdfinfo")) {
    GTEST_SKIP() << "chromium or pdfinfo is not installed";
  }
  const Workplace place;
  for (const auto& [paper, size] :
       {std::pair<std::string, std::string>{"a4", "(A4)"}, {"letter", "612 x 792"}}) {
    const std::string page = place.file(paper + ".html");
    const std::string print = place.file(paper + ".pdf");
    ASSERT_EQ(run(sheet(place, {"--format", "html", "--paper", paper, "--output", page})).code, 0);
    const std::string command =
        std::string(browser) +
        " --headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
        "--disable-background-networking --disable-component-update --disable-sync "
        "--no-pdf-header-footer --user-data-dir=" +
        place.file("profile") + " --print-to-pdf=" + print + " file://" + page +
        " >/dev/null 2>&1 && pdfinfo " + print + " > " + place.file("info");
    ASSERT_EQ(std::system(command.c_str()), 0);
    const std::string info = read_file(place.file("info"));
    EXPECT_TRUE(contains(info, size)) << info;
    const auto at = info.find("Pages:");
    ASSERT_NE(at, std::string::npos);
    const int pages = std::stoi(info.substr(at + 6));
    EXPECT_GE(pages, 3);
    EXPECT_LE(pages, 8);
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
