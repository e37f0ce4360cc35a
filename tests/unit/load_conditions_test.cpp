#include <gtest/gtest.h>

#include <string>
#include <tuple>

#include "load_support.hpp"

namespace sprocketry::test {
namespace {

TEST(LoadConditions, ALowStateOfChargeAboveTheUsualNamesBoth) {
  for (const auto& [written, stated, assumed] :
       {std::tuple{"state_of_charge: 10 %", "10 %", "20 % if not given"},
        std::tuple{"low_state_of_charge: 81 %", "81 %", "80 % if not given"},
        std::tuple{"state_of_charge: 30 %, low_state_of_charge: 31 %", "", ""}}) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "conditions: {" + written + "}\n",
              kTinyParts);
    ASSERT_TRUE(one_error(loaded, "bike.yaml", 10, "`low_state_of_charge`")) << written;
    const std::string& message = loaded.diagnostics.all().front().message;
    EXPECT_NE(message.find("`state_of_charge`"), std::string::npos) << message;
    EXPECT_NE(message.find(stated), std::string::npos) << message;
    EXPECT_NE(message.find(assumed), std::string::npos) << message;
  }
  Loaded equal;
  load_into(equal, std::string(kTinyRequirement) + "conditions: {state_of_charge: 20 %}\n",
            kTinyParts);
  EXPECT_LOADS(equal);
}

}  // namespace
}  // namespace sprocketry::test
