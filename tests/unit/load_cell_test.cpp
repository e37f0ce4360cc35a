#include "load_support.hpp"

namespace sprocketry::test {
namespace {

constexpr std::string_view kCapacity = "    capacity: 100 Ah\n";
constexpr std::string_view kChemistry = "    chemistry: lfp\n";
constexpr std::size_t kCellLine = 20;  // "- id: slate-100" in the tiny parts

const parts::CellPart& cell(const Loaded& loaded) { return loaded.catalogue().cells.front(); }

TEST(LoadCell, TakesEveryKeyInSi) {
  Loaded loaded;
  std::string parts = edited(kTinyParts, "{continuous: 100 A, peak: 300 A}",
                             "{continuous: 100 A, peak: 300 A, charge: 50 A}");
  parts = edited(parts, kCapacity,
                 std::string(kCapacity) +
                     "    nominal_voltage: 3.3 V\n"
                     "    open_circuit: [[0 %, 2.80 V], [50 %, 3.29 V], [100 %, 3.45 V]]\n"
                     "    full_voltage: 3.6 V\n"
                     "    empty_voltage: 2.6 V\n"
                     "    usable: {from: 95 %, to: 10 %}\n"
                     "    peukert: {exponent: 1.1, hours: 5}\n"
                     "    pack: {mass: 4 kg, price: 120, resistance: 2 mohm, current: 250 A}\n");
  load_into(loaded, kTinyRequirement, parts);
  EXPECT_LOADS(loaded);
  const parts::CellPart& part = cell(loaded);
  EXPECT_EQ(part.chemistry, "lfp");
  EXPECT_EQ(part.price, 95 * parts::kMoneyUnit);
  EXPECT_EQ(part.mass, 2.0);
  EXPECT_EQ(part.model.capacity, 360000);
  EXPECT_DOUBLE_EQ(part.model.resistance, 0.0007);
  EXPECT_EQ(part.model.nominal_voltage, 3.3);
  ASSERT_EQ(part.model.open_circuit.size(), 3U);
  EXPECT_EQ(part.model.open_circuit[1].state_of_charge, 0.5);
  EXPECT_EQ(part.model.open_circuit[1].voltage, 3.29);
  EXPECT_EQ(part.model.full_voltage, 3.6);
  EXPECT_EQ(part.model.empty_voltage, 2.6);
  EXPECT_EQ(part.model.usable_from, 0.95);
  EXPECT_EQ(part.model.usable_to, 0.1);
  EXPECT_EQ(part.model.continuous_current, 100);
  EXPECT_EQ(part.model.peak_current, 300);
  EXPECT_EQ(part.model.charge_current, 50);
  EXPECT_EQ(part.model.peukert_exponent, 1.1);
  EXPECT_EQ(part.model.rated_hours, 5);
  EXPECT_EQ(part.kit.mass, 4);
  EXPECT_EQ(part.kit.price, 120 * parts::kMoneyUnit);
  EXPECT_EQ(part.kit.resistance, 0.002);
  EXPECT_EQ(part.kit.board_current, 250);
}

TEST(LoadCell, ChemistryFillsInWhatIsNotStatedAndSaysSo) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const model::Cell& model = cell(loaded).model;
  EXPECT_EQ(model.nominal_voltage, 3.2);
  EXPECT_EQ(model.full_voltage, 3.65);
  EXPECT_EQ(model.empty_voltage, 2.5);
  EXPECT_EQ(model.usable_from, 1.0);
  EXPECT_EQ(model.usable_to, 0.15);
  EXPECT_DOUBLE_EQ(model.charge_current, 50);
  EXPECT_EQ(model.peukert_exponent, 1);
  EXPECT_GT(model.open_circuit.size(), 2U);
  for (const auto* key : {"nominal_voltage", "open_circuit", "full_voltage", "empty_voltage",
                          "usable", "current.charge", "peukert.exponent", "pack"}) {
    const auto* found =
        find_default(loaded.catalogue().defaults, std::string("cells.slate-100.") + key);
    ASSERT_NE(found, nullptr) << key;
    EXPECT_FALSE(found->value.empty()) << key;
    EXPECT_FALSE(found->source.empty()) << key;
  }
}

TEST(LoadCell, NominalVoltageDefaultsByChemistry) {
  const std::pair<const char*, double> chemistries[] = {
      {"lfp", 3.2}, {"nmc", 3.6}, {"lead_acid", 2.075}};
  for (const auto& [name, nominal] : chemistries) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, kChemistry, std::string("    chemistry: ") + name + "\n"));
    EXPECT_LOADS(loaded);
    EXPECT_NEAR(cell(loaded).model.nominal_voltage, nominal, 1e-12) << name;
  }
}

TEST(LoadCell, ABlockTakesItsChemistryTimesItsCells) {
  Loaded loaded;
  load_into(
      loaded, kTinyRequirement,
      edited(kTinyParts, kChemistry, "    chemistry: lead_acid\n    nominal_voltage: 12 V\n"));
  EXPECT_LOADS(loaded);
  const model::Cell& model = cell(loaded).model;
  EXPECT_EQ(model.nominal_voltage, 12);
  EXPECT_DOUBLE_EQ(model.full_voltage, 6 * 2.4);
  EXPECT_DOUBLE_EQ(model.empty_voltage, 6 * 1.75);
  EXPECT_DOUBLE_EQ(model.open_circuit.back().voltage, 6 * 2.15);
  EXPECT_DOUBLE_EQ(model.resistance, 0.0007);
  EXPECT_DOUBLE_EQ(model.charge_current, 0.2 * 100);
}

TEST(LoadCell, ABlockIsSeenFromItsStatedCurve) {
  Loaded loaded;
  load_into(
      loaded, kTinyRequirement,
      edited(kTinyParts, kChemistry,
             "    chemistry: lead_acid\n    open_circuit: [[0 %, 11.8 V], [100 %, 12.7 V]]\n"));
  EXPECT_LOADS(loaded);
  EXPECT_DOUBLE_EQ(cell(loaded).model.nominal_voltage, 12.25);
  EXPECT_DOUBLE_EQ(cell(loaded).model.full_voltage, 6 * 2.4);
}

TEST(LoadCell, AStatedCurveOfABlockBesideOneCellsNominalVoltageIsAnError) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, kChemistry,
                   "    chemistry: lfp\n    open_circuit: [[0 %, 11.2 V], [100 %, 13.8 V]]\n"));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", kCellLine + 2, "state `nominal_voltage`"));
}

TEST(LoadCell, AnUnknownChemistryIsOneErrorWithTheKnownOnesAndWhatAnotherMustState) {
  for (const std::string name : {"sodium", "li-ion", "lipo"}) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, kChemistry,
                     "    chemistry: " + name + "\n    nominal_voltage: 2.3 V\n"));
    EXPECT_TRUE(one_error(loaded, "parts.yaml", kCellLine + 1, "`" + name + "` is not known"));
    for (const auto* word : {"lfp, nmc and lead_acid", "open_circuit", "full_voltage",
                             "empty_voltage", "usable", "current.charge"}) {
      EXPECT_NE(loaded.text().find(word), std::string::npos) << word << '\n' << loaded.text();
    }
  }
}

TEST(LoadCell, AnUnknownChemistryThatStatesThemLoads) {
  Loaded loaded;
  std::string parts = edited(kTinyParts, kChemistry,
                             "    chemistry: sodium\n"
                             "    open_circuit: [[0 %, 2.0 V], [50 %, 3.0 V], [100 %, 3.8 V]]\n"
                             "    full_voltage: 3.95 V\n"
                             "    empty_voltage: 1.8 V\n"
                             "    usable: {from: 100 %, to: 5 %}\n");
  load_into(loaded, kTinyRequirement,
            edited(parts, "{continuous: 100 A, peak: 300 A}",
                   "{continuous: 100 A, peak: 300 A, charge: 60 A}"));
  EXPECT_LOADS(loaded);
  EXPECT_EQ(cell(loaded).model.nominal_voltage, 3.0);
  EXPECT_EQ(cell(loaded).chemistry, "sodium");
}

TEST(LoadCell, ASlipInTheChemistryIsOneErrorWithTheNearest) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, kChemistry, "    chemistry: lpf\n"));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", kCellLine + 1, "did you mean `lfp`"));
}

TEST(LoadCell, CurvesMustAscend) {
  const std::pair<const char*, const char*> curves[] = {
      {"[[0 %, 3.0 V], [50 %, 3.2 V], [50 %, 3.3 V]]", "ascend in state of charge"},
      {"[[50 %, 3.0 V], [0 %, 3.2 V]]", "ascend in state of charge"},
      {"[[0 %, 3.3 V], [100 %, 3.2 V]]", "falls while the state of charge rises"},
      {"[[0 %, 3.3 V]]", "at least 2 points"},
      {"[]", "empty list"},
      {"[[0 %, 3.0 V, 1 A], [100 %, 3.2 V]]", "3 values"},
      {"[0 %, 3.0 V]", "must be a list"},
      {"[[0 %, 3.0 V], [101 %, 3.2 V]]", "from 0 % to 100 %"},
  };
  for (const auto& [curve, fragment] : curves) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, kCapacity,
                     std::string(kCapacity) + "    open_circuit: " + curve + "\n"));
    EXPECT_FALSE(loaded.job.has_value());
    ASSERT_FALSE(loaded.diagnostics.all().empty()) << curve;
    EXPECT_EQ(loaded.diagnostics.all().front().mark.line, kCellLine + 3) << curve;
    EXPECT_NE(loaded.text().find(fragment), std::string::npos) << curve << "\n" << loaded.text();
  }
}

TEST(LoadCell, EqualVoltagesOfACurveAreAllowed) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, kCapacity,
                   std::string(kCapacity) + "    open_circuit: [[0 %, 3.2 V], [100 %, 3.2 V]]\n"));
  EXPECT_LOADS(loaded);
}

TEST(LoadCell, TheUsableWindowDescends) {
  for (const auto* window : {"{from: 15 %, to: 100 %}", "{from: 50 %, to: 50 %}"}) {
    Loaded loaded;
    load_into(
        loaded, kTinyRequirement,
        edited(kTinyParts, kCapacity, std::string(kCapacity) + "    usable: " + window + "\n"));
    EXPECT_TRUE(one_error(loaded, "parts.yaml", kCellLine + 3, "`from`")) << window;
  }
}

TEST(LoadPack, NamesACellOfTheCatalogue) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, "cell: slate-100", "cell: slate-10"));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", 28, "did you mean `slate-100`"));
}

TEST(LoadPack, MayHaveTheIdOfTheGeneratedPackThatItIs) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, "slate-block", "slate-100x16s1p"));
  EXPECT_LOADS(loaded);
}

TEST(LoadPack, MayNotHaveTheIdOfAnotherGeneratedPack) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, "slate-block", "slate-100x15s1p"));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", 28, "another pack"));
}

TEST(LoadPack, IdsOfGeneratedPacksAreReadBack) {
  const auto pack = parts::split_pack_id("box-5x16s1px20s2p");
  ASSERT_TRUE(pack.has_value());
  EXPECT_EQ(pack->cell_id, "box-5x16s1p");
  EXPECT_EQ(pack->series, 20);
  EXPECT_EQ(pack->parallel, 2);
  EXPECT_EQ(parts::pack_id("box-5x16s1p", 20, 2), "box-5x16s1px20s2p");
  for (const auto* other :
       {"", "p", "x", "slate", "slatex16s1", "slatex016s1p", "slatex0s1p", "slatexs1p",
        "slatex16s-1p", "slatex16s1pp", "slatex16.5s1p", "slatex99999999999s1p"}) {
    EXPECT_FALSE(parts::split_pack_id(other).has_value()) << other;
  }
}

}  // namespace
}  // namespace sprocketry::test
