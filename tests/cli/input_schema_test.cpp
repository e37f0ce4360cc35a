// The schemas of the input files against the loaders, which know best.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <regex>
#include <set>

#include "cli/input_examples.hpp"
#include "cli/launch.hpp"
#include "cli/schema.hpp"
#include "document/node.hpp"
#include "spec/cycles.hpp"
#include "spec/load.hpp"
#include "spec/metrics.hpp"
#include "units/units.hpp"

namespace sprocketry::test::tiny {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

constexpr std::string_view kStranger = "zzzzqqqq";
using Keys = std::set<std::string>;
using KeysByPlace = std::map<std::string, Keys>;  // place: "bike.tyre", "motors[].no_load[]"

void write_example(const Workplace& place, const InputExample& example) {
  place.write("bike.yaml", example.requirement);
  place.write("parts.yaml", example.parts);
  place.write("ride.csv", "time_s,speed_km_h\n0,0\n5,30\n9,20\n");
}

// --- what the schema knows

std::string join(const std::string& place, const std::string& key) {
  return place.empty() ? key : place + "." + key;
}

// The definition that a reference means, in `document` or in another schema.
void collect_keys(const json& schema, const json& document, const std::string& place,
                  KeysByPlace& keys);

void follow(const std::string& reference, const json& document, const std::string& place,
            KeysByPlace& keys) {
  const std::size_t hash = reference.find('#');
  const std::string file = reference.substr(0, hash);
  const json other = file.empty() ? document : schema_document(file.substr(0, file.find('.')));
  collect_keys(other.at(json::json_pointer(reference.substr(hash + 1))), other, place, keys);
}

void collect_keys(const json& schema, const json& document, const std::string& place,
                  KeysByPlace& keys) {
  if (schema.contains("$ref")) follow(schema["$ref"], document, place, keys);
  for (const char* choice : {"anyOf", "oneOf", "allOf"}) {
    if (!schema.contains(choice)) continue;
    for (const json& one : schema[choice]) collect_keys(one, document, place, keys);
  }
  if (schema.contains("items") && schema["items"].is_object()) {
    collect_keys(schema["items"], document, place + "[]", keys);
  }
  if (!schema.contains("properties")) return;
  EXPECT_EQ(schema.value("additionalProperties", true), false) << place;
  for (const auto& [key, value] : schema["properties"].items()) {
    keys[place].insert(key);
    collect_keys(value, document, join(place, key), keys);
  }
}

KeysByPlace keys_of_schema(const std::string& name) {
  KeysByPlace keys;
  const json document = schema_document(name);
  collect_keys(document, document, "", keys);
  return keys;
}

// --- what the loaders know: they list it beside a key that they do not know

Keys keys_in_hint(std::string hint) {
  constexpr std::string_view kBeginning = "known keys here: ";
  EXPECT_TRUE(hint.starts_with(kBeginning)) << hint;
  hint.erase(0, kBeginning.size());
  const std::size_t last = hint.find(" and ");
  if (last != std::string::npos) hint.replace(last, std::string_view(" and ").size(), ", ");
  Keys keys;
  for (const std::string& word : split(hint, ',')) keys.insert(word.substr(word[0] == ' ' ? 1 : 0));
  return keys;
}

Keys keys_known_to_the_loader(const Workplace& place) {
  document::Diagnostics diagnostics;
  spec::load_job(place.bike(), {}, diagnostics);
  for (const document::Diagnostic& finding : diagnostics.all()) {
    if (contains(finding.message, "unknown key `" + std::string(kStranger) + "`")) {
      return keys_in_hint(finding.hint);
    }
  }
  return {};
}

// Every map of a document, by its steps from the root ("motors", "0", "current").
void collect_maps(const json& value, const json::json_pointer& at,
                  std::vector<json::json_pointer>& maps) {
  if (value.is_object()) maps.push_back(at);
  if (!value.is_structured()) return;
  for (const auto& [key, inner] : value.items()) collect_maps(inner, at / key, maps);
}

// "/motors/0/no_load/1" is "motors[].no_load[]".
std::string place_of(const json::json_pointer& at) {
  std::string place;
  for (const std::string& step : split(at.to_string(), '/')) {
    if (step.empty()) continue;
    const bool index = std::ranges::all_of(step, [](char c) { return c >= '0' && c <= '9'; });
    if (index) {
      place += "[]";
    } else {
      place = join(place, step);
    }
  }
  return place;
}

// Puts a stranger into each map of one file in turn and reads which keys the loader knows there.
void add_keys_known_to_the_loader(const Workplace& place, const std::string& name,
                                  KeysByPlace& keys) {
  const std::string text = read_file(place.file(name));
  const json document = yaml_as_json(text);
  std::vector<json::json_pointer> maps;
  collect_maps(document, json::json_pointer(), maps);
  for (const json::json_pointer& at : maps) {
    json changed = document;
    changed[at][std::string(kStranger)] = "1";
    place.write(name, changed.dump());  // JSON is YAML
    const Keys known = keys_known_to_the_loader(place);
    EXPECT_FALSE(known.empty()) << name << ' ' << at;
    keys[place_of(at)].insert(known.begin(), known.end());
  }
  place.write(name, text);
}

KeysByPlace keys_of_loader(const std::string& name) {
  KeysByPlace keys;
  for (const InputExample& example : input_examples()) {
    const Workplace place;
    write_example(place, example);
    add_keys_known_to_the_loader(place, name, keys);
  }
  return keys;
}

std::string text_of(const KeysByPlace& keys) {
  std::string text;
  for (const auto& [place, names] : keys) {
    text += (place.empty() ? "(root)" : place) + ":";
    for (const std::string& name : names) text += ' ' + name;
    text += '\n';
  }
  return text;
}

// Also fails where no example writes a map that the schema knows.
TEST(InputSchema, NamesExactlyTheKeysThatTheLoadersKnow) {
  EXPECT_EQ(text_of(keys_of_schema("requirement")), text_of(keys_of_loader("bike.yaml")));
  EXPECT_EQ(text_of(keys_of_schema("parts")), text_of(keys_of_loader("parts.yaml")));
}

TEST(InputSchema, AcceptsEveryExampleThatTheLoadersAccept) {
  const Schema requirement("requirement");
  const Schema parts("parts");
  for (const InputExample& example : input_examples()) {
    const Workplace place;
    write_example(place, example);
    document::Diagnostics diagnostics;
    EXPECT_TRUE(spec::load_job(place.bike(), {}, diagnostics)) << diagnostics.text();
    EXPECT_EQ(requirement.problems(yaml_as_json(example.requirement)), "");
    EXPECT_EQ(parts.problems(yaml_as_json(example.parts)), "");
  }
}

TEST(InputSchema, AcceptsTheFilesOfTheProject) {
  const fs::path specs = fs::path(SPROCKETRY_SOURCE_DIR) / "specs";
  std::size_t files = 0;
  for (const auto& [folder, name] : {std::pair{specs, "requirement"}, {specs / "parts", "parts"}}) {
    const Schema schema(name);
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() != ".yaml") continue;
      ++files;
      EXPECT_EQ(schema.problems(yaml_as_json(read_file(entry.path().string()))), "") << entry;
    }
  }
  EXPECT_GE(files, 3U);
}

// Values that the loaders refuse and an editor should underline.
TEST(InputSchema, RefusesWhatAnEditorShouldUnderline) {
  const json bike = yaml_as_json(input_examples().front().requirement);
  const json parts = yaml_as_json(input_examples().front().parts);
  const auto refuses = [](const Schema& schema, json document, const char* at, const json& value) {
    document[json::json_pointer(at)] = value;
    EXPECT_NE(schema.problems(document), "") << at << ' ' << value;
  };
  const Schema requirement("requirement");
  const std::vector<std::pair<const char*, json>> in_bike = {
      {"/bike/mass", 96},          {"/bike/mass", "96 km"},  {"/bike/mass", "96"},
      {"/bike/maas", "96 kg"},     {"/ride/cycle", "udds"},  {"/conditions/grip", "0.9"},
      {"/objectives", {"price"}},  {"/parts", "p.yaml"},     {"/must", json::object()},
      {"/bike/tyre/size", "3-18"}, {"/cruise/0", "40 mile"}, {"/sprocketry", 2},
      {"/must/price/max", "9 EUR"}};
  for (const auto& [at, value] : in_bike) refuses(requirement, bike, at, value);
  const Schema catalogue("parts");
  const std::vector<std::pair<const char*, json>> in_parts = {
      {"/motors/0/kind", "series"},      {"/motors/0/price", "640"},
      {"/motors/0/thermal/capacity", 1}, {"/controllers/0/drives", "brushed"},
      {"/cells/0/usable", {}},           {"/chains/0/price_per_link", 0.3},
      {"/cells/0/open_circuit/0/2", 1},  {"/rear_sprockets/0/teeth", 12.5},
      {"/extras/0/id", "a/b"},           {"/motor", json::array()}};
  for (const auto& [at, value] : in_parts) refuses(catalogue, parts, at, value);
  for (const char* key : {"sprocketry", "parts", "bike", "rider", "must"}) {
    json document = bike;
    document.erase(key);
    EXPECT_NE(requirement.problems(document), "") << key;
  }
}

// `spread` has paths for keys, so it is compared with the loader by what both accept.
TEST(InputSchema, AcceptsTheSpreadsThatTheLoaderAccepts) {
  const Schema schema("requirement");
  const std::string sound = input_examples()[1].requirement;
  const std::vector<std::pair<std::string, bool>> spreads = {
      {"rider.mass: {normal: 5 kg}", true},
      {"rider: {mass: {uniform: 5 %}}", true},
      {"rider: {mass: none}", true},
      {"cells.*.capacity: {triangular: 5 %}", true},
      {"bike.rolling_resistance: {normal: 0.001}", true},
      {"bike.rolling_resistance: {uniform: {from: 0.01, to: 0.02}}", true},
      {"rider.mass: {uniform: {from: 70 kg, to: 90 kg}}", true},
      {"rider.mass: 5 kg", false},
      {"rider.mass: {}", false},
      {"rider.mass: {normal: 5 kg, uniform: 5 kg}", false},
      {"rider.mass: {normal: {from: 70 kg, to: 90 kg}}", false},
      {"rider.mass: {uniform: {from: 70 kg}}", false},
      {"rider.mass: {uniform: {from: 70 kg, to: 90 kg, by: 1 kg}}", false},
  };
  for (const auto& [line, accepted] : spreads) {
    const InputExample example{sound + "\nspread:\n  " + line + "\n", input_examples()[1].parts};
    const Workplace place;
    write_example(place, example);
    document::Diagnostics diagnostics;
    EXPECT_EQ(spec::load_job(place.bike(), {}, diagnostics).has_value(), accepted)
        << line << '\n'
        << diagnostics.text();
    EXPECT_EQ(schema.problems(yaml_as_json(example.requirement)).empty(), accepted) << line;
  }
}

TEST(InputSchema, KnowsTheCyclesAndTheObjectivesOfTheProgram) {
  const json schema = schema_document("requirement")["properties"];
  Keys cycles;
  for (const spec::Cycle& cycle : spec::cycles()) cycles.emplace(cycle.id);
  EXPECT_EQ(schema["ride"]["properties"]["cycle"]["enum"].get<Keys>(), cycles);
  Keys objectives;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (info.objective) objectives.emplace(info.name);
  }
  objectives.emplace(spec::confidence_metric().name);
  EXPECT_EQ(schema["objectives"]["items"]["enum"].get<Keys>(), objectives);
}

// A value of every unit of its dimension, and none of any other.
TEST(InputSchema, KnowsTheUnitsOfEveryDimension) {
  const json definitions = schema_document("quantities")["definitions"];
  constexpr int kLast = static_cast<int>(units::Dimension::kPowerPerMass);
  std::set<std::string_view> all;
  for (int i = 0; i <= kLast; ++i) {
    for (const auto symbol : units::symbols_of(units::Dimension(i))) all.insert(symbol);
  }
  for (int i = 0; i <= kLast; ++i) {
    const auto dimension = static_cast<units::Dimension>(i);
    std::string name(units::name_of(dimension));
    name.erase(0, name.find(' ') + 1);
    std::ranges::replace(name, ' ', '_');
    ASSERT_TRUE(definitions.contains(name)) << name;
    const std::regex pattern(definitions[name]["pattern"].get<std::string>());
    const auto fits = [&](const std::string& text) { return std::regex_search(text, pattern); };
    EXPECT_TRUE(fits(std::string(units::example_of(dimension)))) << name;
    for (const auto symbol : all) {
      const std::string unit(symbol);
      for (const std::string number : {"1 ", "-2.5", "1e-3 ", "7/8 ", "1 1/8 "}) {
        EXPECT_EQ(fits(number + unit), units::parse(number + unit, dimension).has_value())
            << name << ": " << number << unit;
      }
      EXPECT_FALSE(fits(unit)) << name << ": " << unit;
    }
    for (const char* bare : {"1", "", "one", "1 furlong"}) EXPECT_FALSE(fits(bare)) << name << bare;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
