#include "report/json_writer.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>
#include <sstream>
#include <string>

namespace sprocketry::report {
namespace {

using Write = std::function<void(JsonWriter&)>;

std::string written(const Write& write, Indent indent = Indent::kCompact) {
  std::ostringstream out;
  {
    JsonWriter json(out, indent);
    write(json);
  }
  return out.str();
}

template <typename Value>
std::string text_of(const Value& value) {
  return written([&](JsonWriter& json) { json.value(value); });
}

TEST(JsonWriter, WritesADoubleInTheShortestFormThatReadsBack) {
  EXPECT_EQ(text_of(0.1), "0.1");
  EXPECT_EQ(text_of(1.0), "1");
  EXPECT_EQ(text_of(-2.5), "-2.5");
  EXPECT_EQ(text_of(1e300), "1e+300");
  EXPECT_EQ(text_of(0.1 + 0.2), "0.30000000000000004");
  EXPECT_EQ(text_of(5e-324), "5e-324");
  std::mt19937_64 random(1);
  for (int i = 0; i < 20'000; ++i) {
    const auto number = std::bit_cast<double>(random());
    if (!std::isfinite(number)) continue;
    const std::string text = text_of(number);
    EXPECT_EQ(nlohmann::json::parse(text).get<double>(), number) << text;
  }
}

TEST(JsonWriter, HasNoMinusZeroNaNOrInfinity) {
  EXPECT_EQ(text_of(-0.0), "0");
  EXPECT_EQ(text_of(std::numeric_limits<double>::quiet_NaN()), "null");
  EXPECT_EQ(text_of(std::numeric_limits<double>::infinity()), "null");
  EXPECT_EQ(text_of(-std::numeric_limits<double>::infinity()), "null");
}

TEST(JsonWriter, WritesIntegersInFull) {
  EXPECT_EQ(text_of(0), "0");
  EXPECT_EQ(text_of(-7), "-7");
  EXPECT_EQ(text_of(std::numeric_limits<std::int64_t>::min()), "-9223372036854775808");
  EXPECT_EQ(text_of(std::numeric_limits<std::uint64_t>::max()), "18446744073709551615");
  EXPECT_EQ(text_of(std::size_t{12}), "12");
  EXPECT_EQ(text_of(~Count128{0}), "340282366920938463463374607431768211455");
  EXPECT_EQ(text_of(Count128{1} << 64U), "18446744073709551616");
  EXPECT_EQ(text_of(Count128{0}), "0");
}

TEST(JsonWriter, WritesTruthNothingAndText) {
  EXPECT_EQ(text_of(true), "true");
  EXPECT_EQ(text_of(false), "false");
  EXPECT_EQ(written([](JsonWriter& json) { json.null(); }), "null");
  EXPECT_EQ(text_of(std::optional<double>()), "null");
  EXPECT_EQ(text_of(std::optional<double>(2.0)), "2");
  EXPECT_EQ(written([](JsonWriter& json) { json.value("literal"); }), "\"literal\"");
  EXPECT_EQ(text_of(std::string("s")), "\"s\"");
}

TEST(JsonWriter, EscapesWhatJsonDemandsAndPassesTheRest) {
  EXPECT_EQ(text_of(std::string("\"\\/\b\f\n\r\t")), R"("\"\\/\b\f\n\r\t")");
  EXPECT_EQ(text_of(std::string("\0\x01\x1f\x7f", 4)), R"("\u0000\u0001\u001f\u007f")");
  EXPECT_EQ(text_of(std::string("\xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80")),
            "\"\xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80\"");
}

TEST(JsonWriter, EscapesAnyByteWhereverItStandsInALongText) {
  for (int byte = 0; byte < 128; ++byte) {
    const std::string alone = text_of(std::string(1, static_cast<char>(byte)));
    const std::string inside = alone.substr(1, alone.size() - 2);
    for (std::size_t place = 0; place < 19; ++place) {
      std::string text(19, '!');
      text[place] = static_cast<char>(byte);
      EXPECT_EQ(text_of(text),
                '"' + std::string(place, '!') + inside + std::string(18 - place, '!') + '"');
    }
  }
}

TEST(JsonWriter, WritesAPartOfADocumentAsItStandsThere) {
  const auto members = [](JsonWriter& json) {
    for (int i = 0; i < 3; ++i) {
      json.begin_object();
      json.member("i", i);
      json.end_object();
    }
  };
  std::ostringstream part;
  {
    JsonWriter json(part, Indent::kPretty, 1);
    json.begin_list();
    members(json);
    json.end_list();
  }
  const std::string text = part.str();
  const std::string inner = text.substr(text.find('{'), text.rfind('}') + 1 - text.find('{'));
  const auto document = [&](const Write& inside) {
    return written(
        [&](JsonWriter& json) {
          json.begin_object();
          json.key("list");
          json.begin_list();
          inside(json);
          json.end_list();
          json.end_object();
        },
        Indent::kPretty);
  };
  EXPECT_EQ(document([&](JsonWriter& json) { json.raw(inner); }), document(members));
}

TEST(JsonWriter, ReplacesBytesThatAreNotUtf8) {
  const std::string mark = "\xEF\xBF\xBD";
  EXPECT_EQ(text_of(std::string("a\xFF"
                                "b")),
            "\"a" + mark + "b\"");
  EXPECT_EQ(text_of(std::string("\xC0\xAF")), "\"" + mark + mark + "\"");
  EXPECT_EQ(text_of(std::string("\xED\xA0\x80")), "\"" + mark + mark + mark + "\"");
  EXPECT_EQ(text_of(std::string("\xE2\x82")), "\"" + mark + mark + "\"");
  EXPECT_EQ(text_of(std::string("\xF4\x90\x80\x80")), "\"" + mark + mark + mark + mark + "\"");
  std::mt19937 random(2);
  for (int round = 0; round < 5000; ++round) {
    std::string bytes;
    for (std::size_t count = random() % 12; count > 0; --count) {
      bytes += static_cast<char>(random() % 256);
    }
    EXPECT_TRUE(nlohmann::json::accept(text_of(bytes)));
  }
}

void sample(JsonWriter& json) {
  json.begin_object();
  json.member("title", "demo");
  json.key("empty");
  json.begin_list();
  json.end_list();
  json.key("nothing");
  json.begin_object();
  json.end_object();
  json.key("front");
  json.begin_list();
  json.begin_object(Layout::kLine);
  json.member("a", 1);
  json.key("b");
  json.begin_list();
  json.value(1.5);
  json.null();
  json.end_list();
  json.end_object();
  json.value(true);
  json.end_list();
  json.end_object();
}

TEST(JsonWriter, IndentsAndKeepsLinesThatAreAskedFor) {
  EXPECT_EQ(written(sample, Indent::kPretty),
            "{\n"
            "  \"title\": \"demo\",\n"
            "  \"empty\": [],\n"
            "  \"nothing\": {},\n"
            "  \"front\": [\n"
            "    {\"a\": 1, \"b\": [1.5, null]},\n"
            "    true\n"
            "  ]\n"
            "}");
}

TEST(JsonWriter, WritesOneDocumentALine) {
  const std::string text = written([](JsonWriter& json) {
    for (int i = 0; i < 2; ++i) {
      sample(json);
      json.end_line();
    }
  });
  const std::string line =
      R"({"title":"demo","empty":[],"nothing":{},"front":[{"a":1,"b":[1.5,null]},true]})";
  EXPECT_EQ(text, line + "\n" + line + "\n");
}

TEST(JsonWriter, HandsOverWhatExceedsItsBufferAndTheRestAtTheEnd) {
  std::ostringstream out;
  {
    JsonWriter json(out, Indent::kCompact);
    json.begin_list();
    for (int i = 0; i < 100'000; ++i) json.value(i);
    EXPECT_GT(out.str().size(), 500'000U);
    json.end_list();
    json.flush();
    const std::size_t flushed = out.str().size();
    EXPECT_EQ(out.str().back(), ']');
    json.end_line();
    EXPECT_EQ(out.str().size(), flushed);
  }
  EXPECT_EQ(out.str().back(), '\n');
  EXPECT_EQ(nlohmann::json::parse(out.str()).size(), 100'000U);
}

TEST(JsonWriter, LeavesItsFailureToTheStream) {
  std::ostringstream out;
  out.setstate(std::ios::badbit);
  JsonWriter json(out);
  json.value(1);
  json.flush();
  EXPECT_TRUE(out.bad());
}

// Writes a random document and builds the same one with the other library.
nlohmann::ordered_json random_document(std::mt19937& random, JsonWriter& json, int depth) {
  switch (random() % (depth == 0 ? 4U : 6U)) {
    case 0: {
      const double number = static_cast<double>(random()) / 1e3 - 1e6;
      json.value(number);
      return number;
    }
    case 1: {
      const auto number = static_cast<std::int64_t>(random()) - 1'000'000'000;
      json.value(number);
      return number;
    }
    case 2: {
      const std::string text = "t\"\\\n\xC3\xA4" + std::to_string(random());
      json.value(text);
      return text;
    }
    case 3:
      json.null();
      return nullptr;
    case 4: {
      auto list = nlohmann::ordered_json::array();
      json.begin_list(random() % 2 == 0 ? Layout::kLine : Layout::kBlock);
      for (std::size_t count = random() % 4; count > 0; --count) {
        list.push_back(random_document(random, json, depth - 1));
      }
      json.end_list();
      return list;
    }
    default: {
      auto object = nlohmann::ordered_json::object();
      json.begin_object(random() % 2 == 0 ? Layout::kLine : Layout::kBlock);
      for (std::size_t count = random() % 4; count > 0; --count) {
        const std::string key = "k" + std::to_string(count);
        json.key(key);
        object[key] = random_document(random, json, depth - 1);
      }
      json.end_object();
      return object;
    }
  }
}

TEST(JsonWriter, IsReadBackAsWhatWasWritten) {
  std::mt19937 random(3);
  for (int round = 0; round < 3000; ++round) {
    std::ostringstream out;
    nlohmann::ordered_json expected;
    {
      JsonWriter json(out, round % 2 == 0 ? Indent::kPretty : Indent::kCompact);
      expected = random_document(random, json, 4);
    }
    EXPECT_EQ(nlohmann::ordered_json::parse(out.str()), expected) << out.str();
    EXPECT_EQ(out.str().find(" \n"), std::string::npos) << "trailing blank";
  }
}

TEST(JsonWriterDeathTest, StopsADebugBuildAtWrongUse) {
  const auto misuse = [](const Write& write) { written(write); };
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) {
                       json.begin_object();
                       json.value(1);
                       json.end_object();
                     }),
                     "needs a key");
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) {
                       json.begin_list();
                       json.key("k");
                       json.end_list();
                     }),
                     "is_object");
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) {
                       json.begin_list();
                       json.end_object();
                     }),
                     "is_object");
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) {
                       json.begin_object();
                       json.key("a");
                       json.end_object();
                     }),
                     "has_key_");
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) { json.begin_list(); }), "levels_.empty");
  EXPECT_DEBUG_DEATH(misuse([](JsonWriter& json) {
                       json.value(1);
                       json.value(2);
                     }),
                     "end_line");
}

}  // namespace
}  // namespace sprocketry::report
