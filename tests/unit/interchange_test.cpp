#include "parts/interchange.hpp"

#include <gtest/gtest.h>

#include "load_support.hpp"
#include "model/sprocket.hpp"
#include "parts/standards.hpp"

namespace sprocketry::test {
namespace {

using parts::Interchange;

parts::ChainPart chain_with(double roller, double width, double pitch = 12.7e-3) {
  parts::ChainPart chain;
  chain.size = "custom";
  chain.model.pitch = pitch;
  chain.roller_diameter = roller;
  chain.inner_width = width;
  return chain;
}

// On a sprocket of size 40: pitch 12.7 mm, roller 7.92 mm, chain 7.9375 mm wide, tooth
// 0.93 x 7.9375 - 0.15 = 7.231875 mm.
Interchange on_40(double roller_mm, double width_mm, double pitch_mm = 12.7) {
  return parts::interchange(chain_with(roller_mm * 1e-3, width_mm * 1e-3, pitch_mm * 1e-3), "40");
}

TEST(Interchange, AllowsHalfAPercentOfPitch) {
  EXPECT_EQ(on_40(7.92, 7.94, 12.763), Interchange::kStandard);
  EXPECT_EQ(on_40(7.92, 7.94, 12.764), Interchange::kRefused);
  EXPECT_EQ(on_40(7.92, 7.94, 12.637), Interchange::kStandard);
  EXPECT_EQ(on_40(7.92, 7.94, 12.636), Interchange::kRefused);
}

TEST(Interchange, AllowsTheScatterOfPrintedRollersAndRefusesAnotherRoller) {
  EXPECT_EQ(on_40(7.95, 7.94), Interchange::kStandard);
  EXPECT_EQ(on_40(7.96, 7.94), Interchange::kNotStandard);
  EXPECT_EQ(on_40(8.12, 7.94), Interchange::kNotStandard);
  EXPECT_EQ(on_40(8.13, 7.94), Interchange::kRefused);
  EXPECT_EQ(on_40(7.89, 7.94), Interchange::kStandard);
  EXPECT_EQ(on_40(7.88, 7.94), Interchange::kNotStandard);
  EXPECT_EQ(on_40(7.72, 7.94), Interchange::kNotStandard);
  EXPECT_EQ(on_40(7.71, 7.94), Interchange::kRefused);
}

TEST(Interchange, AllowsTheScatterOfPrintedWidthsAndRefusesAChainNarrowerThanTheTooth) {
  EXPECT_EQ(on_40(7.92, 7.69), Interchange::kStandard);
  EXPECT_EQ(on_40(7.92, 7.68), Interchange::kNotStandard);
  EXPECT_EQ(on_40(7.92, 7.232), Interchange::kNotStandard);
  EXPECT_EQ(on_40(7.92, 7.231), Interchange::kRefused);
  EXPECT_EQ(on_40(7.92, 8.18), Interchange::kStandard);
  EXPECT_EQ(on_40(7.92, 8.19), Interchange::kNotStandard);
}

TEST(Interchange, SaysWhatIsWrong) {
  const auto reason = [](double roller, double width, const char* size) {
    return parts::interchange_reason(chain_with(roller, width), size);
  };
  EXPECT_EQ(reason(7.92e-3, 7.94e-3, "40"), "");
  EXPECT_EQ(reason(8.51e-3, 7.0e-3, "40"),
            "other roller: the chain has 8.51 mm, the gaps of size 40 are cut for 7.92 mm; tooth "
            "wider than the chain: a tooth of size 40 is 7.23 mm thick, the chain 7 mm wide "
            "inside");
  EXPECT_EQ(reason(7.80e-3, 7.5e-3, "40"),
            "enters but is not to standard: rollers of 7.8 mm in gaps of size 40, cut for 7.92 mm, "
            "lie loose; a tooth of size 40 is 7.23 mm thick where this chain takes 6.83 mm: it "
            "rubs on the plates");
  EXPECT_EQ(reason(7.92e-3, 7.94e-3, "520"),
            "other pitch: the chain has 12.7 mm, a sprocket of size 520 15.88 mm");
}

TEST(Interchange, TakesSizesThatNobodyKnowsByTheirName) {
  const parts::ChainPart chain = chain_with(0, 0);
  EXPECT_EQ(parts::interchange(chain, "custom"), Interchange::kStandard);
  EXPECT_EQ(parts::interchange(chain, "other"), Interchange::kRefused);
  EXPECT_NE(parts::interchange_reason(chain, "other").find("nothing is known"), std::string::npos);
  EXPECT_EQ(parts::interchange(chain, "40"), Interchange::kRefused);
  EXPECT_NE(parts::interchange_reason(chain, "40").find("does not state `roller` and `width`"),
            std::string::npos);
}

TEST(Interchange, CountsWhatTheChainStatesMoreThanItsSize) {
  parts::ChainPart chain = chain_with(0, 0);
  chain.size = "420";
  EXPECT_EQ(parts::interchange(chain, "420"), Interchange::kStandard);
  chain.inner_width = 5.0e-3;
  EXPECT_EQ(parts::interchange(chain, "420"), Interchange::kRefused);
  chain.inner_width = 0;
  chain.roller_diameter = 7.92e-3;
  EXPECT_EQ(parts::interchange(chain, "420"), Interchange::kNotStandard);
}

TEST(Interchange, OfEverySizeWithItselfIsToStandard) {
  for (const parts::ChainSize& size : parts::chain_sizes()) {
    parts::ChainPart chain;
    chain.size = std::string(size.name);
    chain.model.pitch = size.pitch;
    EXPECT_EQ(parts::interchange(chain, size.name), Interchange::kStandard) << size.name;
    EXPECT_LT(model::tooth_thickness(size.inner_width), size.inner_width);
  }
}

TEST(ChainShape, IsThatOfTheSizeUnderTheLettersForThickerPlates) {
  for (const char* name : {"428H", "428M", "428MH", "428"}) {
    EXPECT_EQ(parts::find_chain_shape(name), parts::find_chain_size("428")) << name;
  }
  for (const char* name : {"", "H", "MH", "428HM", "428X", "428 H", "532H"}) {
    EXPECT_EQ(parts::find_chain_shape(name), nullptr) << name;
  }
}

TEST(ChainShape, FillsInAHeavyChainsPitchRollerAndWidthOnly) {
  const auto with = [](std::string_view entry) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(edited(kTinyParts, "size: \"420\", links", entry), "size: \"420\", teeth",
                     "size: \"428H\", teeth"));
    return loaded;
  };
  const Loaded sound = with(
      "size: \"428H\", pin: 4.45 mm, tensile_strength: 20.6 kN, mass_per_length: 0.8 kg/m, links");
  ASSERT_TRUE(sound.job.has_value()) << sound.text();
  const parts::ChainPart& chain = sound.job->catalogue.chains.front();
  EXPECT_DOUBLE_EQ(chain.model.pitch, 12.7e-3);
  EXPECT_DOUBLE_EQ(chain.roller_diameter, 8.51e-3);
  EXPECT_DOUBLE_EQ(chain.inner_width, 7.9375e-3);
  EXPECT_NE(with("size: \"428H\", links").text().find("tensile_strength"), std::string::npos);
  EXPECT_NE(with("size: \"428H\", pitch: 15.875 mm, pin: 4.45 mm, tensile_strength: 20.6 kN, "
                 "mass_per_length: 0.8 kg/m, links")
                .text()
                .find("a chain of size 428H has a pitch of 12.7 mm"),
            std::string::npos);
}

}  // namespace
}  // namespace sprocketry::test
