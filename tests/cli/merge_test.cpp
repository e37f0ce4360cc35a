// search --slice and merge, through the program.

#include <gtest/gtest.h>

#include <functional>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

// The slices' fronts as part1.json, part2.json, ... and their names.
Words slices(const Workplace& place, const std::string& requirement, int of,
             const Words& more = {}) {
  Words files;
  for (int k = 1; k <= of; ++k) {
    files.push_back(place.file("part" + std::to_string(k) + ".json"));
    Words words = {
        "search",   requirement, "--slice",  std::to_string(k) + '/' + std::to_string(of),
        "--format", "json",      "--output", files.back()};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out, "");
  }
  return files;
}

Words merge_of(const Words& files, const Words& more = {}) {
  Words words = {"merge"};
  words.insert(words.end(), files.begin(), files.end());
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string from(const std::string& text, const std::string& mark) {
  const std::size_t at = text.find(mark);
  EXPECT_NE(at, std::string::npos);
  return at == std::string::npos ? "" : text.substr(at);
}

TEST(Merge, GivesTheDocumentOfOneSearchByteForByte) {
  const Workplace place;
  for (const Words& more :
       {Words{}, Words{"--rules", "all"}, Words{"--set", "objectives=[top_speed, mass]"},
        Words{"--set", "must.price.max=1900"}}) {
    Words words = {"search", place.bike(), "--format", "json"};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome whole = run(words);
    for (const int of : {1, 3, 30}) {
      Words files = slices(place, place.bike(), of, more);
      std::reverse(files.begin(), files.end());
      const Outcome outcome = run(merge_of(files));
      EXPECT_EQ(outcome.code, whole.code) << outcome.err;
      EXPECT_EQ(outcome.err, "");
      EXPECT_EQ(outcome.out, whole.out) << of;
    }
  }
}

TEST(Merge, GivesFrontObjectivesAndCombinationsOfASearchThatLeavesOut) {
  const Workplace place;
  const std::string demo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
  const Outcome whole = run({"search", demo, "--format", "json"});
  const Outcome outcome = run(merge_of(slices(place, demo, 3)));
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(from(outcome.out, "\n  \"objectives\": ["), from(whole.out, "\n  \"objectives\": ["));
  const Json merged = Json::parse(outcome.out);
  EXPECT_EQ(Schema("search").problems(merged), "");
  EXPECT_EQ(merged["count"]["combinations"], Json::parse(whole.out)["count"]["combinations"]);
  EXPECT_EQ(merged["defaults"], Json::parse(whole.out)["defaults"]);
}

TEST(Merge, WritesAFileOrAFewWords) {
  const Workplace place;
  const Words files = slices(place, place.bike(), 2);
  const Outcome plain = run(merge_of(files));
  const std::string target = place.file("front.json");
  EXPECT_EQ(run(merge_of(files, {"--output", target})).out, "");
  EXPECT_EQ(read_file(target), plain.out);
  const Outcome text = run(merge_of(files, {"--format", "text"}));
  EXPECT_EQ(text.code, 0);
  for (const char* words : {"Tiny town bike", " combinations in 2 slices: ", " on the front, of ",
                            "pull_away", "alder-4/"}) {
    EXPECT_TRUE(contains(text.out, words)) << text.out;
  }
}

TEST(Merge, SaysNoOnlyWhenNoSliceHasAnything) {
  const Workplace place;
  const Words none = {"--set", "must.price.max=5"};
  const Words files = slices(place, place.bike(), 2, none);
  const Outcome merged = run(merge_of(files));
  EXPECT_EQ(merged.code, 1) << merged.err;
  EXPECT_EQ(Json::parse(merged.out)["front"], Json::array());
  EXPECT_TRUE(contains(run(merge_of(files, {"--format", "text"})).out, "No combination meets"));
}

TEST(Slice, FollowsTheSchema) {
  const Workplace place;
  const Words files = slices(place, place.bike(), 2);
  const Schema schema("search");
  Json slice = Json::parse(read_file(files[1]));
  EXPECT_EQ(schema.problems(slice), "");
  EXPECT_EQ(slice["slice"]["index"], 2);
  EXPECT_EQ(slice["slice"]["values"].size(), slice["front"].size());
  const Json& first = slice["front"][0]["metrics"];
  EXPECT_EQ(slice["slice"]["values"][0],
            Json::array({first["pull_away_s"], first["range_km"], first["price"]}));
  slice["slice"].erase("question");
  EXPECT_NE(schema.problems(slice), "");
}

TEST(Slice, RefusesWhatIsNone) {
  const Workplace place;
  for (const char* wrong : {"0/4", "5/4", "1", "1/0", "/", "1/", "-1/4", "1/4/2", " 1/4", "a/b", "",
                            "1/100001", "1/99999999999999999999"}) {
    const Outcome outcome = run({"search", place.bike(), "--slice", wrong, "--format", "json"});
    EXPECT_EQ(outcome.code, 2) << wrong;
    EXPECT_EQ(outcome.out, "") << wrong;
    EXPECT_TRUE(contains(outcome.err, "--slice")) << outcome.err;
  }
}

TEST(Slice, RefusesOptionsThatNeedTheWholeFront) {
  const Workplace place;
  for (const Words& more :
       {Words{}, Words{"--format", "csv"}, Words{"--format", "json", "--near", "2 %"},
        Words{"--format", "json", "--resolution", "price=10"},
        Words{"--format", "json", "--html", place.file("page.html")},
        Words{"--format", "json", "--all"}, Words{"--format", "json", "--stand-ins", "x"}}) {
    Words words = {"search", place.bike(), "--slice", "1/2"};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_TRUE(contains(outcome.err, "--slice")) << outcome.err;
  }
}

// What merge says of these files, which it must refuse.
std::string refusal(const Words& files) {
  const Outcome outcome = run(merge_of(files));
  EXPECT_EQ(outcome.code, 2) << outcome.err;
  EXPECT_EQ(outcome.out, "");
  return outcome.err;
}

TEST(Merge, RefusesWhatIsNotTheWholeOfOneQuestion) {
  const Workplace place;
  const Words files = slices(place, place.bike(), 4);
  const std::string other = place.file("other.json");
  const auto search = [&](const Words& more) {
    Words words = {"search", place.bike(), "--format", "json", "--output", other};
    words.insert(words.end(), more.begin(), more.end());
    EXPECT_EQ(run(words).code, 0);
  };
  EXPECT_TRUE(contains(refusal({files[1]}), "missing: 1, 3, 4"));
  EXPECT_TRUE(contains(refusal({files[0], files[1], files[2]}), "missing: 4"));
  EXPECT_TRUE(contains(refusal({files[3]}), "missing: 1 to 3"));
  EXPECT_TRUE(contains(refusal({files[0], files[1], files[0], files[2], files[3]}),
                       "part1.json:6:14: error: slice 1 is there already"));
  const auto instead_of_the_last = [&] { return refusal({files[0], files[1], files[2], other}); };
  search({"--slice", "4/5"});
  EXPECT_TRUE(contains(instead_of_the_last(), "one of 5 slices"));
  search({"--slice", "4/4", "--set", "rider.mass=81 kg"});
  EXPECT_TRUE(contains(instead_of_the_last(), "another question than"));
  search({"--slice", "4/4", "--rules", "all"});
  EXPECT_TRUE(contains(instead_of_the_last(), "another question than"));
  search({});
  EXPECT_TRUE(
      contains(instead_of_the_last(), "other.json:1:1: error: this front is not that of a"));
  place.edit("parts.yaml", "mass: 10 kg", "mass: 10.5 kg");
  search({"--slice", "4/4"});
  EXPECT_TRUE(contains(instead_of_the_last(), "another question than"));
  EXPECT_TRUE(contains(refusal({place.file("none.json")}), "does not exist"));
  EXPECT_TRUE(contains(refusal({place.path().string()}), "is a folder"));
  EXPECT_TRUE(contains(refusal({place.bike()}), "bike.yaml:1:1: error: this is not JSON"));
}

TEST(Merge, RefusesFilesThatAreCutOffOrBroken) {
  const Workplace place;
  const std::string file = slices(place, place.bike(), 1)[0];
  const std::string sound = read_file(file);
  ASSERT_EQ(run(merge_of({file})).code, 0);
  for (std::size_t part = 0; part < 40; ++part) {
    const std::string cut = sound.substr(0, sound.size() * part / 40);
    place.write("cut.json", cut);
    const std::string said = refusal({place.file("cut.json")});
    EXPECT_TRUE(contains(said, part == 0 ? "is empty" : "ends in the middle")) << said;
    EXPECT_TRUE(contains(said, "cut.json:")) << said;
  }
  const std::vector<std::pair<std::string, std::string>> broken = {
      {sound.substr(0, 100) + '}' + sound.substr(100), "is not JSON"},
      {sound + "{}", "is not JSON"},
      {sound + '\0' + "{}", "zero byte"},
      {"{\"front\": \"\xff\"}", "1:12: error: this is not JSON"},
      {std::string(100000, '['), "nesting deeper than"},
      {"{\"a\": 1, \"a\": 2}", "`a` twice"},
      {"[]", "this is no front"},
      {"7", "this is no front"},
  };
  for (const auto& [text, message] : broken) {
    place.write("broken.json", text);
    const std::string said = refusal({place.file("broken.json")});
    EXPECT_TRUE(contains(said, message)) << message << '\n' << said;
  }
}

TEST(Merge, RefusesDocumentsThatLackOrTwist) {
  const Workplace place;
  const Json sound = Json::parse(read_file(slices(place, place.bike(), 1)[0]));
  using Change = std::function<void(Json&)>;
  std::vector<std::pair<std::string, Change>> changes = {
      {"another version", [](Json& d) { d["sprocketry"] = "0.0.1"; }},
      {"an index of 0", [](Json& d) { d["slice"]["index"] = 0; }},
      {"too many slices", [](Json& d) { d["slice"]["of"] = 1e9; }},
      {"counts that do not add up", [](Json& d) { d["count"]["evaluated"] = 1; }},
      {"a count that is none", [](Json& d) { d["count"]["pruned"] = -1; }},
      {"a count beyond all", [](Json& d) { d["count"]["pruned"] = 1e40; }},
      {"a rule that is none", [](Json& d) { d["count"]["rejected"]["colour"] = 1; }},
      {"a member less", [](Json& d) { d["front"].erase(0); }},
      {"values less", [](Json& d) { d["slice"]["values"].erase(0); }},
      {"a value less", [](Json& d) { d["slice"]["values"][0].erase(0); }},
      {"a value that is a text", [](Json& d) { d["slice"]["values"][0][0] = "5"; }},
      {"another value than the member's own",
       [](Json& d) { d["slice"]["values"][0][2] = d["slice"]["values"][0][2].get<double>() + 1; }},
      {"a metric that is null", [](Json& d) { d["front"][0]["metrics"]["price"] = nullptr; }},
      {"a metric that is a text", [](Json& d) { d["front"][0]["metrics"]["price"] = "5"; }},
      {"no metrics", [](Json& d) { d["front"][0].erase("metrics"); }},
      {"a value that is null", [](Json& d) { d["slice"]["values"][0][0] = nullptr; }},
      {"a member that is a number", [](Json& d) { d["front"][0] = 5; }},
      {"an id that is none", [](Json& d) { d["front"][0]["id"] = "a/b"; }},
      {"an id without teeth", [](Json& d) { d["front"][0]["id"] = "a/b/c/d/e/f/g"; }},
      {"no id", [](Json& d) { d["front"][0].erase("id"); }},
      {"no cell", [](Json& d) { d["slice"]["cells"] = Json::object(); }},
      {"a direction that is none", [](Json& d) { d["objectives"][0]["better"] = "best"; }},
      {"no objectives", [](Json& d) { d["objectives"] = Json::array(); }},
      {"a default without key", [](Json& d) { d["defaults"][0].erase("key"); }},
  };
  for (const auto& [key, value] : sound.items()) {
    changes.emplace_back("no " + key, [key = key](Json& d) { d.erase(key); });
    changes.emplace_back("null as " + key, [key = key](Json& d) { d[key] = nullptr; });
  }
  for (const auto& [key, value] : sound["slice"].items()) {
    changes.emplace_back("no slice." + key, [key = key](Json& d) { d["slice"].erase(key); });
    changes.emplace_back("null as " + key, [key = key](Json& d) { d["slice"][key] = nullptr; });
  }
  for (const auto& [name, change] : changes) {
    Json document = sound;
    change(document);
    place.write("twisted.json", document.dump(1));
    const std::string said = refusal({place.file("twisted.json")});
    EXPECT_TRUE(contains(said, "twisted.json:")) << name << '\n' << said;
    EXPECT_TRUE(contains(said, ": error: ")) << name << '\n' << said;
  }
}

TEST(Merge, OfAStoppedSliceIsMarkedNotExact) {
  const Workplace place;
  const Words files = slices(place, place.bike(), 2);
  Json stopped = Json::parse(read_file(files[0]));
  stopped["exact"] = false;
  Json& count = stopped["count"];
  count["evaluated"] = count["evaluated"].get<int>() - 1;
  count["unsettled"] = 1;
  count["settled_percent"] = 99;
  place.write("part1.json", stopped.dump());
  const Outcome outcome = run(merge_of(files));
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "part1.json was stopped before its end")) << outcome.err;
  const Json merged = Json::parse(outcome.out);
  EXPECT_EQ(Schema("search").problems(merged), "");
  EXPECT_EQ(merged["exact"], false);
  EXPECT_EQ(merged["count"]["unsettled"], 1);
  EXPECT_LT(merged["count"]["settled_percent"].get<double>(), 100);
  EXPECT_FALSE(merged["front"].empty());
  const Outcome text = run(merge_of(files, {"--format", "text"}));
  EXPECT_EQ(text.code, 3);
  EXPECT_TRUE(contains(text.out, "best so far")) << text.out;
}

}  // namespace
}  // namespace sprocketry::test::tiny
