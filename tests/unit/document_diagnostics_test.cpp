#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <string>

#include "document_support.hpp"

namespace sprocketry::document {
namespace {

TEST(Diagnostics, ShowNameLineCaretAndWhatToDo) {
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("bike.yaml", "a: 1\n  rolling_resistance: 0.9\n");
  diagnostics.error({&source, 2, 23}, "rolling resistance 0.9 is outside 0.001 to 0.2",
                    "write for example 0.014");
  EXPECT_EQ(diagnostics.text(),
            "bike.yaml:2:23: error: rolling resistance 0.9 is outside 0.001 to 0.2\n"
            "    2 |   rolling_resistance: 0.9\n"
            "      |                       ^\n"
            "      = write for example 0.014\n");
}

TEST(Diagnostics, ShowTheSecondPlaceWithItsLine) {
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("bike.yaml", "mass: 1\nmass: 2\n");
  diagnostics.add({Severity::kWarning,
                   {&source, 2, 1},
                   "given twice",
                   {},
                   Mark{&source, 1, 1},
                   "first given here"});
  EXPECT_EQ(diagnostics.text(),
            "bike.yaml:2:1: warning: given twice\n"
            "    2 | mass: 2\n"
            "      | ^\n"
            "bike.yaml:1:1: note: first given here\n"
            "    1 | mass: 1\n"
            "      | ^\n");
  EXPECT_FALSE(diagnostics.has_errors());
}

TEST(Diagnostics, StandInTheOrderOfSourceLineAndColumnEachOnce) {
  Diagnostics diagnostics;
  const Source& first = diagnostics.add_source("one", "a\nb\n");
  const Source& second = diagnostics.add_source("two", "c\n");
  diagnostics.error({&second, 1, 1}, "m4");
  diagnostics.error({&first, 2, 1}, "m3");
  diagnostics.error({&first, 1, 2}, "m2");
  diagnostics.error({&first, 1, 1}, "m1");
  diagnostics.error({&first, 2, 1}, "m3b");
  diagnostics.error({&first, 2, 1}, "m3");
  const std::string text = diagnostics.text();
  EXPECT_LT(text.find("m1"), text.find("m2"));
  EXPECT_LT(text.find("m2"), text.find("m3"));
  EXPECT_LT(text.find("m3b"), text.find("m4"));
  EXPECT_EQ(text.find("m3\n"), text.rfind("m3\n"));
}

TEST(Diagnostics, SayHowManyWereLeftOut) {
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("x", std::string(100, '\n'));
  for (std::size_t line = 1; line <= 60; ++line) diagnostics.error({&source, line, 1}, "wrong");
  const std::string text = diagnostics.text();
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 51);
  EXPECT_NE(text.find("10 more"), std::string::npos);
  EXPECT_EQ(diagnostics.text(60).find("more"), std::string::npos);
}

// Each against each would be 4e10 comparisons; the limit only guards against hanging.
TEST(Diagnostics, OfOnePlaceAreManyWithoutTakingForEver) {
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("x", "a\n");
  constexpr int kMany = 200'000;
  for (int i = 0; i < kMany; ++i) diagnostics.error({&source, 1, 1}, std::to_string(i % 100'000));
  const auto begin = std::chrono::steady_clock::now();
  const std::string text = diagnostics.text();
  EXPECT_NE(text.find("... and 99950 more"), std::string::npos);
  EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(30));
}

TEST(Diagnostics, KeepTheCaretUnderItsCharacter) {
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("x", "\tkey:\t\xC3\xA4\xC3\xB6 here");
  diagnostics.error({&source, 1, 10}, "m");
  EXPECT_EQ(diagnostics.text(),
            "x:1:10: error: m\n"
            "    1 |  key: \xC3\xA4\xC3\xB6 here\n"
            "      |          ^\n");
}

TEST(Diagnostics, ShowAWindowOfALongLine) {
  Diagnostics diagnostics;
  std::string line;
  for (int i = 0; i < 1000; ++i) line += "\xC3\xA4";
  line += "HERE";
  for (int i = 0; i < 1000; ++i) line += "\xC3\xB6";
  const Source& source = diagnostics.add_source("x", line);
  diagnostics.error({&source, 1, 1001}, "m");
  const std::string text = diagnostics.text();
  const std::size_t start = text.find("    1 | ") + 8;
  const std::string shown = text.substr(start, text.find('\n', start) - start);
  const std::size_t caret_line = text.find("      | ") + 8;
  const std::string caret = text.substr(caret_line, text.find('\n', caret_line) - caret_line);
  EXPECT_EQ(shown.substr(0, 3), "...");
  EXPECT_EQ(shown.substr(shown.size() - 3), "...");
  // "..." and a hundred two-byte letters stand before the caret.
  EXPECT_EQ(caret, std::string(103, ' ') + "^");
  EXPECT_EQ(shown.substr(203, 4), "HERE");
  EXPECT_LT(text.size(), 700U);
}

TEST(Diagnostics, NeverEchoBytesThatMoveOrColourATerminal) {
  Diagnostics diagnostics;
  const std::string nasty = std::string("\x1b[31m\x07\x7f\xC2\x9b\xE2\x80\xAE\xFF\r", 14) + '\0';
  const Source& source = diagnostics.add_source("na\x1bme", "k: " + nasty + "z");
  diagnostics.error({&source, 1, 4}, "message " + nasty, "hint " + nasty);
  const std::string text = diagnostics.text();
  for (const char letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    EXPECT_TRUE(byte == '\n' || (byte >= 0x20 && byte != 0x7f)) << int{byte};
  }
  EXPECT_EQ(text.find("\xC2\x9b"), std::string::npos);
  EXPECT_EQ(text.find("\xE2\x80\xAE"), std::string::npos);
  EXPECT_EQ(text.find('\xFF'), std::string::npos);
}

TEST(Diagnostics, DoWithoutAPlace) {
  Diagnostics diagnostics;
  diagnostics.error({}, "nothing to do");
  const Source& source = diagnostics.add_source("bike.yaml", "");
  diagnostics.error({&source, 0, 0}, "is missing");
  EXPECT_EQ(diagnostics.text(), "bike.yaml: error: is missing\nerror: nothing to do\n");
}

TEST(Diagnostics, ShortenAMessageThatQuotesAHugeKey) {
  Diagnostics diagnostics;
  diagnostics.error({}, std::string(100'000, 'k'));
  EXPECT_LT(diagnostics.text().size(), 1000U);
}

TEST(Nearest, OffersWhatWasMeantAndNothingElse) {
  const std::vector<std::string_view> keys = {"top_speed", "range", "mass", "price", "pull_away"};
  EXPECT_EQ(nearest("top_sped", keys), "top_speed");
  EXPECT_EQ(nearest("topspeed", keys), "top_speed");
  EXPECT_EQ(nearest("Range", keys), "range");
  EXPECT_EQ(nearest("rnage", keys), "range");
  EXPECT_EQ(nearest("mas", keys), "mass");
  EXPECT_EQ(nearest("pullaway_", keys), "pull_away");
  EXPECT_EQ(nearest("colour", keys), std::nullopt);
  EXPECT_EQ(nearest("", keys), std::nullopt);
  EXPECT_EQ(nearest("m", keys), std::nullopt);
  EXPECT_EQ(nearest("mass", {}), std::nullopt);
  EXPECT_EQ(nearest(std::string(1'000'000, 'm'), keys), std::nullopt);
}

// "cells.*.mass" is fewer edits away.
TEST(Nearest, IsTheOneThatAWordBegins) {
  const std::vector<std::string_view> keys = {"cells.*.mass", "cells.*.capacity",
                                              "cells.*.current.peak", "cells.*.current.charge",
                                              "cells.*.capacity"};
  EXPECT_EQ(nearest("cells.*.cap", keys), "cells.*.capacity");
  EXPECT_EQ(nearest("cells.*.Cap", keys), "cells.*.capacity");
  EXPECT_EQ(nearest("cells.*.current", keys), std::nullopt);
  EXPECT_EQ(nearest("cells.*.c", keys), std::nullopt);
  EXPECT_EQ(nearest("cells.*.current.p", keys), "cells.*.current.peak");
  EXPECT_EQ(nearest("cells.*.mas", keys), "cells.*.mass");
}

TEST(Nearest, AllowsAThirdOfTheWordUpToThreeEdits) {
  EXPECT_EQ(nearest("abcd12", {"abcdef"}), "abcdef");
  EXPECT_EQ(nearest("abc123", {"abcdef"}), std::nullopt);
  EXPECT_EQ(nearest("abcdefghijkl123", {"abcdefghijklmno"}), "abcdefghijklmno");
  EXPECT_EQ(nearest("abcdefghijk1234", {"abcdefghijklmno"}), std::nullopt);
}

}  // namespace
}  // namespace sprocketry::document
