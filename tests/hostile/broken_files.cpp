#include "broken_files.hpp"

#include <stdexcept>
#include <string_view>

namespace sprocketry::test {
namespace {

// A row in the making: begins as the sound files.
struct Row {
  BrokenFile file;

  // Replaces the one line of a file that begins with `line`; the error is expected there, or
  // `below` lines further down.
  static Row edit(std::string name, const std::string& file, std::string_view line,
                  std::string_view replacement, std::string fragment, std::size_t below = 0) {
    Row row;
    row.file = {std::move(name), sound_files(), {}, file, 0, std::move(fragment)};
    std::string& text = row.file.files.at(file);
    std::size_t number = 1;
    for (std::size_t begin = 0; begin < text.size(); ++number) {
      const std::size_t end = text.find('\n', begin);
      if (std::string_view(text).substr(begin).starts_with(line)) {
        text.replace(begin, end - begin, replacement);
        row.file.line = number + below;
        return row;
      }
      begin = end + 1;
    }
    throw std::logic_error("no line begins with: " + std::string(line));
  }

  // A whole file in the place of a sound one.
  static Row whole(std::string name, const std::string& file, std::string text, std::size_t line,
                   std::string fragment) {
    Row row;
    row.file = {std::move(name), sound_files(), {}, file, line, std::move(fragment)};
    row.file.files[file] = std::move(text);
    return row;
  }

  Row&& beside(const std::string& name, std::string text) && {
    file.files[name] = std::move(text);
    return std::move(*this);
  }
  Row&& without(const std::string& name) && {
    file.files.erase(name);
    return std::move(*this);
  }
  // The error is expected in another file than the edited one.
  Row&& at(std::string place, std::size_t line) && {
    file.place = std::move(place);
    file.line = line;
    return std::move(*this);
  }
};

constexpr const char* kBike = "bike.yaml";
constexpr const char* kParts = "parts.yaml";

std::string repeated(std::string_view text, std::size_t times) {
  std::string result;
  for (std::size_t i = 0; i < times; ++i) result += text;
  return result;
}

void add_files_that_are_no_yaml(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::whole("empty file", kBike, "", 0, "empty"));
  add(Row::whole("blank lines and comments only", kBike, "# nothing\n\n\n", 0, "empty"));
  add(Row::whole("a text instead of a map", kBike, "a bike\n", 1, "map of keys"));
  add(Row::whole("a list instead of a map", kBike, "- 1\n- 2\n", 1, "map of keys"));
  add(Row::whole("binary bytes", kBike,
                 std::string("\x7f"
                             "ELF\x02\x01\x01\0\0\0",
                             10),
                 1, ""));
  add(Row::whole("bytes that are not UTF-8", kBike, "sprocketry: 1\ntitle: \xff\xfe\n", 2,
                 "UTF-8"));
  add(Row::whole("a NUL byte", kBike, std::string("sprocketry: 1\ntitle: a\0b\n", 25), 2, ""));
  add(Row::whole("UTF-16", kBike, std::string("\xff\xfes\0p\0r\0", 8), 1, ""));
  add(Row::whole("a second document", kBike, "sprocketry: 1\n---\nsprocketry: 1\n", 2,
                 "second document"));
  add(Row::whole("a tag", kBike, "sprocketry: !!python/object 1\n", 1, "tags"));
  add(Row::whole("an alias", kBike, "sprocketry: 1\nbike: &b {mass: 96 kg}\nrider: *b\n", 2,
                 "not allowed"));
  add(Row::whole("an alias of itself", kBike, "a: &a [*a]\n", 1, "not allowed"));
  add(Row::whole("an alias bomb", kBike,
                 "a: &a [x, x, x, x, x, x, x, x, x]\n"
                 "b: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]\n"
                 "c: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b]\n"
                 "d: &d [*c, *c, *c, *c, *c, *c, *c, *c, *c]\n",
                 1, "not allowed"));
  add(Row::whole("a merge key", kBike, "bike:\n  <<: {mass: 96 kg}\n", 2, "merge keys"));
  add(Row::whole("deep nesting of lists", kBike, "a: " + repeated("[", 100000), 1, ""));
  add(Row::whole("deep nesting of maps", kBike,
                 "a: " + repeated("{a: ", 1000) + repeated("}", 1000) + "\n", 1, "nested deeper"));
  add(Row::whole("truncated in a list", kBike, "sprocketry: 1\nparts: [parts.yaml, \n", 3,
                 "not closed"));
  add(Row::whole("truncated in a quoted text", kBike, "sprocketry: 1\ntitle: \"Harb", 2,
                 "not closed"));
  add(Row::whole("a tab as indentation", kBike, "bike:\n\tmass: 96 kg\n", 2,
                 "a tab in the indentation"));
  add(Row::whole("wrong indentation", kBike, "bike:\n  mass: 96 kg\n   wheelbase: 1.3 m\n", 3, ""));
  add(Row::whole("a list as a key", kBike, "[1, 2]: 3\n", 1, "key"));
  add(Row::whole("larger than the limit", kBike, "title: " + repeated("x", (16U << 20U) + 1), 0,
                 "larger than 16 MiB"));
  add(Row::whole("parts file empty", kParts, "", 0, "empty"));
  add(Row::whole("parts file a list", kParts, "- id: hollin-48\n", 1, "map of keys"));
  add(Row::whole("parts file binary", kParts, std::string("PK\x03\x04\0\0", 6), 1, ""));
  add(Row::edit("key given twice", kBike, "  wheelbase:", "  mass: 97 kg", "given twice"));
}

void add_missing_files(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::whole("requirement missing", kBike, "", 0, "does not exist").without(kBike).at("", 0));
  add(Row::whole("requirement a folder", kBike, "", 0, "folder")
          .without(kBike)
          .beside("bike.yaml/", "")
          .at("", 0));
  add(Row::whole("parts file missing", kParts, "", 0, "does not exist")
          .without(kParts)
          .at(kBike, 4));
  add(Row::whole("parts file a folder", kParts, "", 0, "folder")
          .without(kParts)
          .beside("parts.yaml/", "")
          .at(kBike, 4));
  add(Row::edit("parts file named twice", kBike, "parts:", "parts: [parts.yaml, ./parts.yaml]",
                "named twice"));
  add(Row::edit("no parts file", kBike, "parts:", "parts: []", "empty list"));
  add(Row::edit("parts not a list", kBike, "parts:", "parts: parts.yaml", "must be a list"));
  add(Row::edit("parts an empty name", kBike, "parts:", "parts: [\"\"]", "empty text"));
  add(Row::edit("list in a CSV file that is missing", kParts,
                "extras:", "tyres: none.csv\nextras:", "does not exist"));
  add(Row::edit("list in an empty CSV file", kParts, "extras:", "tyres: tyres.csv\nextras:", "")
          .beside("tyres.csv", "")
          .at("tyres.csv", 0));
  add(Row::edit("list in a CSV file without rows", kParts,
                "extras:", "tyres: tyres.csv\nextras:", "holds no part")
          .beside("tyres.csv", "size,rollout\n"));
  add(Row::edit("CSV row too short", kParts, "extras:", "tyres: tyres.csv\nextras:", "")
          .beside("tyres.csv", "size,rollout\n3.00-18\n")
          .at("tyres.csv", 2));
  add(Row::edit("CSV quote not closed", kParts, "extras:", "tyres: tyres.csv\nextras:", "")
          .beside("tyres.csv", "size,rollout\n\"3.00-18,1.9 m\n")
          .at("tyres.csv", 2));
  add(Row::edit("CSV value out of range", kParts,
                "extras:", "tyres: tyres.csv\nextras:", "from 0.5 m to 4 m")
          .beside("tyres.csv", "size,rollout\n3.00-18,194 m\n")
          .at("tyres.csv", 2));
  add(Row::edit("CSV column unknown", kParts,
                "extras:", "tyres: tyres.csv\nextras:", "did you mean `rollout`")
          .beside("tyres.csv", "size,rolout\n3.00-18,1.94 m\n")
          .at("tyres.csv", 1));
  add(Row::edit("trace missing", kBike, "ride:", "ride: {trace: ride.csv}", "does not exist"));
  add(Row::edit("trace with one row", kBike, "ride:", "ride: {trace: ride.csv}", "fewer than 2")
          .beside("ride.csv", "time_s,speed_km_h\n0,0\n")
          .at("ride.csv", 1));
  add(Row::edit("trace going back in time", kBike, "ride:", "ride: {trace: ride.csv}",
                "time does not rise")
          .beside("ride.csv", "time_s,speed_km_h\n0,0\n2,5\n1,5\n")
          .at("ride.csv", 4));
  add(Row::edit("trace without distance", kBike, "ride:", "ride: {trace: ride.csv}", "no distance")
          .beside("ride.csv", "time_s,speed_km_h\n0,0\n2,0\n")
          .at("ride.csv", 2));
}

void add_wrong_values(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::edit("bare number", kBike, "  mass:", "  mass: 96", "a mass"));
  add(Row::edit("wrong unit", kBike, "  mass:", "  mass: 96 km", "a mass"));
  add(Row::edit("unknown unit", kBike, "  mass:", "  mass: 96 kgg", "kg"));
  add(Row::edit("unit in another case", kBike, "  wheelbase:", "  wheelbase: 1.33 M", ""));
  add(Row::edit("comma for decimals", kBike, "  wheelbase:", "  wheelbase: 1,33 m", ""));
  add(Row::edit("negative mass", kBike, "  mass:", "  mass: -96 kg", "from 20 kg to 1000 kg"));
  add(Row::edit("huge number", kBike, "  mass:", "  mass: 1e300 kg", "from 20 kg to 1000 kg"));
  add(Row::edit("overflowing number", kBike, "  mass:", "  mass: 1e999 kg", ""));
  add(Row::edit("NaN", kBike, "  mass:", "  mass: nan kg", ""));
  add(Row::edit("YAML's NaN", kBike, "  rolling_resistance:", "  rolling_resistance: .nan",
                "plain number"));
  add(Row::edit("infinity", kBike, "  rolling_resistance:", "  rolling_resistance: inf",
                "plain number"));
  add(Row::edit("hexadecimal", kBike, "  grip:", "  grip: 0x1", "plain number"));
  add(Row::edit("unit where none belongs", kBike, "  grip:", "  grip: 0.9 g", "plain number"));
  add(Row::edit("zero grip", kBike, "  grip:", "  grip: 0", "more than 0"));
  add(Row::edit("list for a quantity", kBike, "  mass:", "  mass: [96 kg]", "a list was found"));
  add(Row::edit("map for a quantity", kBike, "  mass:", "  mass: {value: 96 kg}", "a map"));
  add(Row::edit("text for a map", kBike, "rider:", "rider: 80 kg", "must be a map of keys"));
  add(Row::edit("list for a map", kBike, "rider:", "rider: [80 kg]", "must be a map of keys"));
  add(Row::edit("text for a list", kBike, "cruise:", "cruise: 40 km/h", "must be a list"));
  add(Row::edit("map for a list", kBike, "cruise:", "cruise: {speed: 40 km/h}", "must be a list"));
  add(Row::edit("no value", kBike, "  mass:", "  mass:", "has no value"));
  add(Row::edit("null", kBike, "  mass:", "  mass: ~", "has no value"));
  add(Row::edit("neither yes nor no", kBike, "  half_links:", "  half_links: maybe", "yes or no"));
  add(Row::edit("another version", kBike, "sprocketry:", "sprocketry: 2",
                "this program reads version 1"));
  add(Row::edit("title a list", kBike, "title:", "title: [a, b]", "must be a text"));
  add(Row::edit("price with a currency", kBike, "  price:", "  price: {max: 3500 EUR}",
                "plain number"));
  add(Row::edit("negative price", kParts, "    price: 640", "    price: -640", "from 0 to"));
  add(Row::edit("zero resistance", kParts, "    resistance: 14 mohm", "    resistance: 0 mohm",
                "from 0.001 mohm to"));
  add(Row::edit("zero teeth", kParts, "  - {id: pinion-420",
                "  - {id: pinion-420, size: \"420\", teeth: 0, price: 10, mass: 0.5 kg}",
                "from 5 to 200"));
  add(Row::edit("half a tooth", kParts, "  - {id: pinion-420",
                "  - {id: pinion-420, size: \"420\", teeth: [12.5], price: 10, mass: 0.5 kg}",
                "whole number"));
  add(Row::edit("too many teeth", kBike,
                "  rear_teeth:", "  rear_teeth: {from: 45, to: 2000000000}", "from 5 to 200"));
  add(Row::edit("zero cells in series", kParts, "  - {id: slate-block",
                "  - {id: slate-block, cell: slate-100, series: 0, parallel: 1}",
                "from 1 to 1000"));
  add(Row::edit("efficiency over 100 %", kParts, "    efficiency:", "    efficiency: 103 %",
                "from 50 % to 100 %"));
  add(Row::edit("peak and rms confused with battery current", kParts, "    current: {battery",
                "    current: {battery: 200 A_rms, motor: 300 A}", "current"));
  add(Row::edit("temperature as a bare number", kBike, "  air:", "  air: 20", "temperature"));
  add(Row::edit("colder than possible", kBike, "  air:", "  air: -300 degC", ""));
  add(Row::edit("state of charge over 100 %", kBike,
                "  state_of_charge:", "  state_of_charge: 120 %", "from 0 % to 100 %"));
  add(Row::edit("climb too steep", kBike, "  climbs:",
                "  climbs: [{grade: 90 %, speed: 30 km/h, for: 3 min}]", "from -50 % to 60 %"));
  add(Row::edit("storm", kBike, "  headwind:", "  headwind: 200 km/h",
                "from -144 km/h to 144 km/h"));
  add(Row::edit("tyre that is no map", kBike, "  tyre:", "  tyre: 4.10-18",
                "write `tyre: {size: 4.10-18}`"));
  add(Row::edit("price that is no map", kBike, "  price:", "  price: 4500",
                "write `price: {max: 4500}`"));
  add(Row::edit("centre distance that is no map", kBike,
                "  centre_distance:", "  centre_distance: 575 mm",
                "write `centre_distance: {min: 560 mm, max: 590 mm}`"));
  add(Row::edit("a comma between thousands", kBike, "  price:", "  price: {max: 4,500}",
                "write `max: 4500`, or `max: 4.500` if"));
  add(Row::edit("a comma before decimals", kBike, "  max_gross_mass:",
                "  max_gross_mass: 330 kg\n  road_load: {f0: 20 N, f2: 0.4 N s2/m2, f1: 0,5}",
                "write `f1: 0.5`", 1));
  add(Row::edit("tyre size unreadable", kBike, "  tyre:", "  tyre: {size: large}", "rollout"));
  add(Row::edit("tyre without anything", kBike, "  tyre:", "  tyre: {}", "neither"));
}

void add_wrong_keys(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::edit("unknown key", kBike, "  wheelbase:", "  wheelbse: 1.33 m",
                "did you mean `wheelbase`"));
  add(Row::edit("unknown key at the root", kBike, "title:", "titel: Harbour",
                "did you mean `title`"));
  add(Row::edit("unknown demand", kBike, "  range:", "  rnage: {min: 45 km}",
                "did you mean `range`"));
  add(Row::edit("unknown key of a part", kParts, "    rotor_inertia:",
                "    rotor_inertias: 0.006 kg m2", "did you mean `rotor_inertia`"));
  add(Row::edit("unknown list of parts", kParts, "packs:", "pack:", "did you mean `packs`"));
  add(Row::edit("bound the wrong way round", kBike, "  top_speed:", "  top_speed: {max: 70 km/h}",
                "lacks `min`"));
  add(Row::edit("required key missing", kBike, "  mass:", "  # no mass", "lacks `mass`", 0)
          .at(kBike, 6));
  add(Row::edit("required map missing", kBike, "rider:", "# no rider", "lacks `rider`")
          .at(kBike, 1));
  add(Row::edit("key of a part missing", kParts, "    resistance: 14 mohm", "    # none",
                "lacks `resistance`")
          .at(kParts, 2));
  add(Row::edit("id missing", kParts, "  - id: hollin-48", "  -", "lacks `id`").at(kParts, 3));
  add(Row::edit("demands missing", kBike, "must:", "mustn:", "lacks `must`").at(kBike, 1));
  add(Row::edit("thermal data of two forms", kParts, "    thermal:",
                "    thermal: {resistance: 0.2 K/W, capacity: 4900 J/K, max_winding: 155 degC, "
                "body_to_air: 0.1 K/W}",
                "unknown key `body_to_air`"));
  add(Row::edit("two rides", kBike, "ride:", "ride: {cycle: r40-urban, steady: 40 km/h}",
                "more than one ride"));
  add(Row::edit("no ride", kBike, "ride:", "ride: {}", "names no ride"));
  add(Row::edit("unknown cycle", kBike, "ride:", "ride: {cycle: r40-urbn}",
                "did you mean `r40-urban`"));
  add(Row::edit("unknown road load", kBike, "  drag_area:", "  road_load: un-gtr-3",
                "did you mean `un-gtr-2`"));
  add(Row::edit("road load beside a drag area", kBike, "  wheelbase:", "  road_load: un-gtr-2",
                "beside `road_load`", 2));
  add(Row::edit("pack says nothing about series", kBike, "  pack:", "  pack: {parallel: [1]}",
                "in series"));
  add(Row::edit("extra with an empty condition", kParts, "  - {id: contactor",
                "  - {id: contactor, when: {full_voltage: {}}, mass: 0.4 kg, price: 85}",
                "neither `min` nor `max`"));
}

void add_wrong_order(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::edit("centre distance reversed", kBike, "  centre_distance:",
                "  centre_distance: {min: 590 mm, max: 560 mm}", "`max` is below `min`"));
  add(Row::edit("swing arm that is no map", kBike, "  rear_sprocket:", "  swing_arm: long", ""));
  add(Row::edit("swing arm that contradicts the centre distance", kBike, "  rear_sprocket:",
                "  swing_arm: {length: 700 mm, shaft_from_pivot: {forward: 75 mm, up: 20 mm}, "
                "droop: 18 deg, rest: 11 deg, bump: 0 deg}",
                "contradicts the centre distance"));
  add(Row::edit("swing arm with the angles upside down", kBike, "  rear_sprocket:",
                "  swing_arm: {length: 500 mm, shaft_from_pivot: {forward: 75 mm, up: 20 mm}, "
                "droop: -18 deg, rest: -11 deg, bump: 0 deg}",
                "angles are positive below the horizontal"));
  add(Row::edit("room for the battery that is no list", kBike, "  space:",
                "  space: {battery: {length: 420 mm, width: 190 mm, height: 230 mm}}", ""));
  add(Row::edit("room for the motor with a width", kBike, "  space:",
                "  space: {motor: {diameter: 210 mm, length: 240 mm, width: 10 mm}}", "`width`"));
  add(Row::edit("cell both round and wide", kParts, "    size: {diameter: 40 mm",
                "    size: {diameter: 40 mm, length: 145 mm, width: 40 mm}", "`width`"));
  add(Row::edit("primary without a ratio", kBike,
                "  primary:", "  primary: {price: 85, mass: 2.4 kg}", "`ratio`"));
  add(Row::edit("primary with a word for a ratio", kBike,
                "  primary:", "  primary: {ratio: fast, price: 85, mass: 2.4 kg}", "`ratio`"));
  add(Row::edit("teeth reversed", kBike, "  rear_teeth:", "  rear_teeth: {from: 55, to: 45}",
                "`to` is below `from`"));
  add(Row::edit("acceleration reversed", kBike, "accelerations:",
                "accelerations: [{from: 70 km/h, to: 40 km/h}]", "slower to faster"));
  add(Row::edit("controller voltage reversed", kParts, "    voltage: {min",
                "    voltage: {min: 90 V, max: 36 V}", "`max` is below `min`"));
  add(Row::edit("usable window ascending", kParts,
                "    usable:", "    usable: {from: 15 %, to: 100 %}", "fuller to the emptier"));
  add(Row::edit("curve not in order", kParts, "    open_circuit:",
                "    open_circuit: [[50 %, 3.29 V], [0 %, 2.80 V], [100 %, 3.45 V]]",
                "ascend in state of charge"));
  add(Row::edit("curve with one state of charge twice", kParts, "    open_circuit:",
                "    open_circuit: [[0 %, 2.80 V], [50 %, 3.29 V], [50 %, 3.45 V]]",
                "ascend in state of charge"));
  add(Row::edit("curve that falls", kParts, "    open_circuit:",
                "    open_circuit: [[0 %, 3.45 V], [50 %, 3.29 V], [100 %, 3.5 V]]", "falls"));
  add(Row::edit("empty above full", kParts, "    empty_voltage:", "    empty_voltage: 3.7 V",
                "`full_voltage` is below `empty_voltage`")
          .at(kParts, 32));
  add(Row::edit("peak below continuous", kParts, "    current: {continuous: 110 A",
                "    current: {continuous: 110 A, peak: 28 A}", "`peak` is below `continuous`"));
  add(Row::edit("controller peak below continuous", kParts, "    current: {battery",
                "    current: {battery: 200 A, motor: 100 A, motor_continuous: 150 A}",
                "`motor` is below `motor_continuous`"));
  add(Row::edit("no-load points not in order", kParts, "    no_load:",
                "    no_load: [{voltage: 48 V, current: 5 A}, {voltage: 24 V, current: 4 A}]",
                "do not ascend"));
  add(Row::edit("centre of gravity ahead of the front axle", kBike, "  centre_of_gravity:",
                "  centre_of_gravity: {height: 0.62 m, behind_front_axle: -0.1 m}",
                "more than 0 m"));
  add(Row::edit("centre of gravity behind the rear axle", kBike, "  centre_of_gravity:",
                "  centre_of_gravity: {height: 0.62 m, behind_front_axle: 1.33 m}",
                "between the axles"));
  add(Row::edit("gross mass below the chassis", kBike,
                "  max_gross_mass:", "  max_gross_mass: 90 kg", "gross mass"));
  add(Row::edit("low state of charge above the usual", kBike, "  low_state_of_charge:",
                "  low_state_of_charge: 90 %", "`state_of_charge` is below")
          .at(kBike, 27));
}

void add_wrong_names(std::vector<BrokenFile>& rows) {
  const auto add = [&](Row row) { rows.push_back(std::move(row.file)); };
  add(Row::edit("id used twice in a list", kParts, "packs:",
                "  - {id: slate-100, chemistry: lfp, capacity: 60 Ah, resistance: 1 mohm, current: "
                "{continuous: 60 A, peak: 180 A}, mass: 1.4 kg, price: 60}\npacks:",
                "used twice"));
  add(Row::edit("id used twice over two lists", kParts, "  - {id: contactor",
                "  - {id: vane-200, price: 85}", "used twice"));
  add(Row::edit("id with a slash", kParts, "  - id: hollin-48", "  - id: hollin/48",
                "is not an id"));
  add(Row::edit("id with a colon", kParts, "  - id: vane-200", "  - id: \"vane:200\"",
                "is not an id"));
  add(Row::edit("unknown motor", kBike, "  motor:", "  motor: [hollin-84x]",
                "no motor has the id"));
  add(Row::edit("misspelt motor", kBike, "  motor:", "  motor: [holin-48]",
                "did you mean `hollin-48`"));
  add(Row::edit("motor named twice", kBike, "  motor:", "  motor: [hollin-48, hollin-48]",
                "named twice"));
  add(Row::edit("empty list of motors", kBike, "  motor:", "  motor: []", "empty list"));
  add(Row::edit("a controller among the motors", kBike, "  motor:", "  motor: [vane-200]",
                "no motor has the id"));
  add(Row::edit("unknown cell", kBike, "  pack:", "  pack: {cells: [slate-10], series: [16]}",
                "did you mean `slate-100`"));
  add(Row::edit("unknown pack", kBike, "  pack:", "  pack: [slate-10x16s1p]",
                "no pack has the id"));
  add(Row::edit("unknown charger", kBike, "  charger:", "  charger: [well-85x]",
                "no charger has the id"));
  add(Row::edit("unknown chain size", kBike, "  chain:", "  chain: [\"530\"]",
                "no chain has the size"));
  add(Row::edit("unknown pitch", kBike, "  chain:", "  chain: {pitch: [5/8 in]}",
                "no chain has a pitch"));
  add(Row::edit("tooth counts that no sprocket has", kBike,
                "  front_teeth:", "  front_teeth: [20, 21]", "from 12 to 17 teeth"));
  add(Row::edit("owned part unknown", kBike, "owned:", "owned: [hollin-84x]",
                "no part has the id"));
  add(Row::edit("owned tooth count unknown", kBike, "owned:", "owned: [\"crown-420:90\"]",
                "from 40 to 72 teeth"));
  add(Row::edit("pack of an unknown cell", kParts, "  - {id: slate-block",
                "  - {id: slate-block, cell: slat-100, series: 16, parallel: 1}",
                "did you mean `slate-100`"));
  add(Row::edit("one objective", kBike, "objectives:", "objectives: [price]", "from 2 to 6"));
  add(Row::edit("one objective besides confidence", kBike,
                "objectives:", "objectives: [price, confidence]", "it must name two"));
  add(Row::edit("objective named twice", kBike, "objectives:", "objectives: [price, range, price]",
                "named twice"));
  add(Row::edit("unknown objective", kBike, "objectives:", "objectives: [price, rnage]",
                "did you mean `range`"));
  add(Row::edit("objective without its list", kBike,
                "objectives:", "objectives: [price, cruise_current]", "needs `cruise`"));
  rows.back().overrides = {"cruise=~"};
  add(Row::edit("list of more entries than anybody means", kBike,
                "owned:", "owned: [" + repeated("a, ", 100000) + "a]", "at most 100000"));
  add(Row::edit("parts of more entries than anybody means", kParts, "extras:",
                "tyres: [" + repeated("{}, ", 100000) + "{}]\nextras:", "at most 100000"));
  add(Row::edit("a table of too many parts", kParts,
                "extras:", "tyres: tyres.csv\nextras:", "at most 100000")
          .beside("tyres.csv", "size,rollout\n" + repeated("3.00-18,1.9 m\n", 100001)));
  add(Row::edit("empty list of parts", kParts, "extras:", "tyres: []\nextras:", "holds no part"));
  add(Row::edit("series-wound motor", kParts, "    kind:", "    kind: series", "magnets"));
  add(Row::edit("hub motor", kParts, "    kind:", "    kind: hub", "no chain"));
  add(Row::edit("controller for nothing", kParts, "    drives:", "    drives: []", "empty list"));
  add(Row::edit("unknown kind of motor", kParts, "    drives:", "    drives: [brushles]",
                "did you mean `brushless`"));
  add(Row::edit("demands of nothing", kBike, "must:", "must: {}\nmust2:", "demands nothing"));
}

void add_wrong_overrides(std::vector<BrokenFile>& rows) {
  const auto add = [&](std::string name, std::string override_text, std::string fragment) {
    rows.push_back({std::move(name),
                    sound_files(),
                    {std::move(override_text)},
                    "--set",
                    0,
                    std::move(fragment)});
  };
  add("override with a wrong unit", "bike.mass=96 km", "a mass");
  add("override of an unknown key", "bike.mas=96 kg", "did you mean `mass`");
  add("override without a value", "bike.mass", "=");
  add("override with a vehicle class without a name", "must.vehicle_class={top_speed: 45 km/h}",
      "lacks `name`");
  add("override with a vehicle class that is none", "must.vehicle_class=L9e", "L3e-A1");
  add("override with a pack too cold", "conditions.pack.temperature=-80 degC", "-30 degC");
  add("override with a free outlet", "charging.outlet=0 W", "50 W");
  add("override of broken YAML", "cruise=[40 km/h", "not closed");
}

}  // namespace

std::vector<BrokenFile> broken_files() {
  std::vector<BrokenFile> rows;
  add_files_that_are_no_yaml(rows);
  add_missing_files(rows);
  add_wrong_values(rows);
  add_wrong_keys(rows);
  add_wrong_order(rows);
  add_wrong_names(rows);
  add_wrong_overrides(rows);
  return rows;
}

}  // namespace sprocketry::test
