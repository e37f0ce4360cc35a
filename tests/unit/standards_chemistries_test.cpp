#include <gtest/gtest.h>

#include <cstddef>

#include "parts/standards.hpp"

namespace sprocketry::parts {
namespace {

TEST(Chemistries, AreFoundByTheirExactNameOnly) {
  for (const char* name : {"lfp", "nmc", "lead_acid"}) {
    ASSERT_NE(find_chemistry(name), nullptr) << name;
    EXPECT_EQ(find_chemistry(name)->name, name);
  }
  for (const char* unknown : {"", "LFP", "lead-acid", "nca", "nmc "}) {
    EXPECT_EQ(find_chemistry(unknown), nullptr) << unknown;
  }
  EXPECT_EQ(chemistries().size(), 3U);
}

TEST(Chemistries, HaveCurvesThatAscendStrictlyFromEmptyToFull) {
  for (const Chemistry& chemistry : chemistries()) {
    SCOPED_TRACE(chemistry.name);
    const auto curve = chemistry.open_circuit;
    ASSERT_GE(curve.size(), 2U);
    EXPECT_EQ(curve.front()[0], 0.0);
    EXPECT_EQ(curve.back()[0], 1.0);
    for (std::size_t i = 1; i < curve.size(); ++i) {
      EXPECT_LT(curve[i - 1][0], curve[i][0]);
      EXPECT_LT(curve[i - 1][1], curve[i][1]);
    }
  }
}

TEST(Chemistries, HaveVoltagesAndWindowsThatFitTheirCurve) {
  for (const Chemistry& chemistry : chemistries()) {
    SCOPED_TRACE(chemistry.name);
    EXPECT_LT(chemistry.empty_voltage, chemistry.nominal_voltage);
    EXPECT_LT(chemistry.nominal_voltage, chemistry.full_voltage);
    EXPECT_LE(chemistry.open_circuit.back()[1], chemistry.full_voltage);
    EXPECT_GT(chemistry.open_circuit.back()[1], chemistry.nominal_voltage);
    EXPECT_GT(chemistry.usable_from, chemistry.usable_to);
    EXPECT_LE(chemistry.usable_from, 1.0);
    EXPECT_GT(chemistry.usable_to, 0.0);
    EXPECT_GT(chemistry.charge_rate, 0.0);
    EXPECT_FALSE(chemistry.source.empty());
    EXPECT_FALSE(chemistry.open_circuit_source.empty());
  }
}

TEST(Chemistries, CarryTheVoltagesThatTheTradeCountsWith) {
  // Common practice, no source.
  struct Row {
    const char* name;
    double nominal, full, empty, rate, to;
  };
  for (const Row& row :
       {Row{"lfp", 3.2, 3.65, 2.5, 0.5, 0.15}, Row{"nmc", 3.6, 4.2, 3.0, 0.5, 0.15},
        Row{"lead_acid", 2.0, 2.4, 1.75, 0.2, 0.5}}) {
    SCOPED_TRACE(row.name);
    const Chemistry* chemistry = find_chemistry(row.name);
    ASSERT_NE(chemistry, nullptr);
    EXPECT_EQ(chemistry->nominal_voltage, row.nominal);
    EXPECT_EQ(chemistry->full_voltage, row.full);
    EXPECT_EQ(chemistry->empty_voltage, row.empty);
    EXPECT_EQ(chemistry->charge_rate, row.rate);
    EXPECT_EQ(chemistry->usable_from, 1.0);
    EXPECT_EQ(chemistry->usable_to, row.to);
  }
}

}  // namespace
}  // namespace sprocketry::parts
