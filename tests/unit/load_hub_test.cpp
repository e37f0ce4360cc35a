#include "load_support.hpp"

namespace sprocketry::test {
namespace {

// The tiny parts with a front sprocket that states so much more.
Loaded with(std::string_view keys) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, "{from: 12, to: 17}",
                   "{from: 12, to: 17}, bore: 7/8 in, key: 3/16 in, " + std::string(keys)));
  return loaded;
}

constexpr std::size_t kLine = 32;

TEST(LoadHub, ReadsSetScrewsAndTheKeysStrength) {
  const Loaded loaded = with("set_screws: {size: 1/4 in, count: 2}, key_strength: 530 MPa");
  EXPECT_LOADS(loaded);
  const parts::FrontSprocketFamily& front = loaded.catalogue().front_sprockets.front();
  ASSERT_TRUE(front.set_screws.has_value());
  EXPECT_DOUBLE_EQ(front.set_screws->size, 6.35e-3);
  EXPECT_EQ(front.set_screws->count, 2);
  EXPECT_DOUBLE_EQ(front.key_strength, 530e6);
  EXPECT_EQ(find_default(loaded.catalogue().defaults, "front_sprockets.pinion-420.key_strength"),
            nullptr);
}

TEST(LoadHub, TakesOneScrewAndTheWeakestKeySteelUnlessTold) {
  const Loaded loaded = with("set_screws: {size: 6 mm}");
  EXPECT_LOADS(loaded);
  const parts::FrontSprocketFamily& front = loaded.catalogue().front_sprockets.front();
  EXPECT_EQ(front.set_screws->count, 1);
  EXPECT_DOUBLE_EQ(front.key_strength, 370e6);
  const parts::Default* recorded =
      find_default(loaded.catalogue().defaults, "front_sprockets.pinion-420.key_strength");
  ASSERT_NE(recorded, nullptr);
  EXPECT_EQ(recorded->value, "370 MPa");
  EXPECT_NE(recorded->source.find("Shigley"), std::string::npos);
}

TEST(LoadHub, SaysNothingOfTheStrengthOfAKeyThatIsNotThere) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(find_default(loaded.catalogue().defaults, "front_sprockets.pinion-420.key_strength"),
            nullptr);
}

TEST(LoadHub, RefusesWhatIsNoSetScrewOrKeySteel) {
  EXPECT_TRUE(one_error(with("set_screws: {count: 1}"), "parts.yaml", kLine, "size"));
  EXPECT_TRUE(one_error(with("set_screws: {size: 1 mm}"), "parts.yaml", kLine, "size"));
  EXPECT_TRUE(one_error(with("set_screws: {size: 30 mm}"), "parts.yaml", kLine, "size"));
  EXPECT_TRUE(one_error(with("set_screws: {size: 0.25}"), "parts.yaml", kLine, "a length"));
  EXPECT_TRUE(
      one_error(with("set_screws: {size: 1/4 in, count: 0}"), "parts.yaml", kLine, "count"));
  EXPECT_TRUE(
      one_error(with("set_screws: {size: 1/4 in, count: 9}"), "parts.yaml", kLine, "count"));
  EXPECT_TRUE(one_error(with("set_screws: {size: 1/4 in, coun: 1}"), "parts.yaml", kLine, "count"));
  EXPECT_TRUE(one_error(with("key_strength: 40 MPa"), "parts.yaml", kLine, "key_strength"));
  EXPECT_TRUE(one_error(with("key_strength: 3 kN"), "parts.yaml", kLine, "a pressure"));
}

}  // namespace
}  // namespace sprocketry::test
