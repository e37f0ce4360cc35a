#include "rule_support.hpp"

namespace sprocketry::test {
namespace {

TEST(ChainSizeRule, PassesWhatRunsAndRefusesWhatDoesNotWithTheReason) {
  Bench bench;
  EXPECT_TRUE(bench.row("chain size").holds);
  EXPECT_TRUE(bench.row("chain interchange").holds);
  EXPECT_EQ(bench.row("chain size").reason, "");
  bench.rear.size = "41";
  EXPECT_TRUE(bench.row("chain size").holds);
  EXPECT_TRUE(bench.row("chain interchange").holds);
  bench.rear.size = "40";
  EXPECT_FALSE(bench.row("chain size").holds);
  EXPECT_EQ(bench.row("chain size").kind, rules::Kind::kReject);
  EXPECT_EQ(bench.row("chain size").reason,
            "rear sprocket: tooth wider than the chain: a tooth of size 40 is 7.23 mm thick, the "
            "chain 6.35 mm wide inside");
  bench.front.size = "520";
  EXPECT_TRUE(bench.row("chain size").reason.starts_with("front sprocket: other pitch: "));
  EXPECT_NE(bench.row("chain size").reason.find("; rear sprocket: "), std::string::npos);
}

TEST(ChainInterchangeRule, CautionsWhatEntersButIsNotToStandard) {
  Bench bench;
  bench.front.size = "415";
  EXPECT_TRUE(bench.row("chain size").holds);
  const rules::Row caution = bench.row("chain interchange");
  EXPECT_FALSE(caution.holds);
  EXPECT_EQ(caution.kind, rules::Kind::kCaution);
  EXPECT_TRUE(caution.reason.starts_with("front sprocket: enters but is not to standard: "));
  // What is refused is not also cautioned about.
  bench.front.size = "40";
  EXPECT_FALSE(bench.row("chain size").holds);
  EXPECT_TRUE(bench.row("chain interchange").holds);
}

TEST(ChainInterchangeRule, StandsRightBehindTheRuleOfSize) {
  const auto table = rules::rule_table();
  const auto size = std::ranges::find(table, "chain size", &rules::Rule::name);
  ASSERT_NE(size, table.end());
  EXPECT_EQ((size + 1)->name, "chain interchange");
}

}  // namespace
}  // namespace sprocketry::test
