#include <gtest/gtest.h>

#include <set>
#include <string_view>
#include <utility>

#include "parts/standards.hpp"
#include "units/units.hpp"

namespace sprocketry::parts {
namespace {

TEST(ChainSizes, ContainEverySizeThatTheProgramPromises) {
  for (const char* name : {"25", "35", "40", "41", "50", "60", "80", "415", "420", "425", "428",
                           "520", "525", "530", "630"}) {
    const ChainSize* size = find_chain_size(name);
    ASSERT_NE(size, nullptr) << name;
    EXPECT_EQ(size->name, name);
  }
  EXPECT_EQ(chain_sizes().size(), 15U);
}

TEST(ChainSizes, AreFoundByTheirIso606CodeToo) {
  const std::pair<const char*, const char*> codes[] = {{"04C", "25"}, {"06C", "35"}, {"085", "41"},
                                                       {"08A", "40"}, {"10A", "50"}, {"12A", "60"},
                                                       {"16A", "80"}};
  for (const auto& [code, name] : codes) {
    ASSERT_NE(find_chain_size(code), nullptr) << code;
    EXPECT_EQ(find_chain_size(code), find_chain_size(name)) << code;
  }
}

TEST(ChainSizes, AreNotFoundByAnythingButTheExactName) {
  for (const char* unknown :
       {"", " ", "4", "40 ", "040", "#40", "428H", "420MH", "532", "08B", "08a", "520X"}) {
    EXPECT_EQ(find_chain_size(unknown), nullptr) << '"' << unknown << '"';
  }
}

TEST(ChainSizes, HaveNamesAndCodesThatAreUnique) {
  std::set<std::string_view> seen;
  for (const ChainSize& size : chain_sizes()) {
    EXPECT_TRUE(seen.insert(size.name).second) << size.name;
    EXPECT_TRUE(size.iso_606.empty() || seen.insert(size.iso_606).second) << size.iso_606;
  }
}

TEST(ChainSizes, AreOfPlausibleProportionsAndNameTheirSource) {
  for (const ChainSize& size : chain_sizes()) {
    SCOPED_TRACE(size.name);
    EXPECT_LT(size.pin_diameter, size.roller_diameter);
    EXPECT_LT(size.roller_diameter, 0.7 * size.pitch);
    EXPECT_LT(size.inner_width, 0.7 * size.pitch);
    EXPECT_GT(size.inner_width, size.pitch / 3);
    EXPECT_GT(size.tensile_strength, 3000);
    EXPECT_GT(size.mass_per_length, 0.1);
    EXPECT_FALSE(size.source.empty());
  }
}

TEST(ChainSizes, HaveThePitchThatTheUnitReaderGivesForItsInches) {
  const std::pair<const char*, const char*> pitches[] = {
      {"25", "1/4 in"},  {"35", "3/8 in"},  {"40", "1/2 in"},  {"41", "1/2 in"},
      {"50", "5/8 in"},  {"60", "3/4 in"},  {"80", "1 in"},    {"415", "1/2 in"},
      {"420", "1/2 in"}, {"425", "1/2 in"}, {"428", "1/2 in"}, {"520", "5/8 in"},
      {"525", "5/8 in"}, {"530", "5/8 in"}, {"630", "3/4 in"}};
  for (const auto& [name, text] : pitches) {
    const auto pitch = units::parse(text, units::Dimension::kLength);
    ASSERT_TRUE(pitch.has_value()) << text;
    EXPECT_EQ(find_chain_size(name)->pitch, pitch->value) << name;
  }
}

}  // namespace
}  // namespace sprocketry::parts
