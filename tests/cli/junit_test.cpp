// The JUnit XML of `check`, read by libxml2.

#include <gtest/gtest.h>
#include <libxml/parser.h>
#include <libxml/xpath.h>

#include <memory>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

class Xml {
 public:
  explicit Xml(const std::string& path)
      : document_(xmlReadFile(path.c_str(), nullptr, XML_PARSE_NONET), xmlFreeDoc) {
    if (document_) context_.reset(xmlXPathNewContext(document_.get()));
  }
  [[nodiscard]] bool well_formed() const { return document_ != nullptr; }
  [[nodiscard]] double number(const std::string& path) const { return evaluate(path)->floatval; }
  [[nodiscard]] std::string text(const std::string& path) const {
    return reinterpret_cast<const char*>(evaluate("string(" + path + ")")->stringval);
  }

 private:
  using Value = std::unique_ptr<xmlXPathObject, decltype(&xmlXPathFreeObject)>;
  [[nodiscard]] Value evaluate(const std::string& path) const {
    const auto* expression = reinterpret_cast<const xmlChar*>(path.c_str());
    return {xmlXPathEvalExpression(expression, context_.get()), xmlXPathFreeObject};
  }

  std::unique_ptr<xmlDoc, decltype(&xmlFreeDoc)> document_;
  std::unique_ptr<xmlXPathContext, decltype(&xmlXPathFreeContext)> context_{nullptr,
                                                                            xmlXPathFreeContext};
};

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

TEST(Junit, ShowsEveryPartFigureAndRule) {
  const Workplace place;
  const std::string lock = place.file("bike.lock.yaml");
  ASSERT_EQ(run({"lock", place.bike(), "--pick", kDesign, "-o", lock}).code, 0);
  const std::string file = place.file("report.xml");
  const auto answer = json_of({"check", lock, "--format", "json", "--junit", file});
  const Xml xml(file);
  ASSERT_TRUE(xml.well_formed());
  const auto expected = static_cast<double>(answer["parts"].size() + answer["figures"].size() +
                                            answer["rules"].size());
  EXPECT_EQ(xml.number("count(/testsuites/testsuite/testcase)"), expected);
  EXPECT_EQ(xml.number("number(/testsuites/@tests)"), expected);
  EXPECT_EQ(xml.number("number(/testsuites/testsuite/@tests)"), expected);
  EXPECT_EQ(xml.number("number(/testsuites/@failures)"), 0);
  EXPECT_EQ(xml.number("count(//failure)"), 0);
  EXPECT_EQ(xml.number("count(//skipped)"), xml.number("number(/testsuites/@skipped)"));
  EXPECT_GT(xml.number("count(//skipped)"), 0);
  EXPECT_EQ(xml.number("count(//testcase[not(@name) or not(@classname)])"), 0);
  EXPECT_EQ(xml.text("/testsuites/testsuite/@name"), kDesign);
}

TEST(Junit, CountsWhatCheckAnswersNoFor) {
  const Workplace place;
  const std::string lock = place.file("bike.lock.yaml");
  ASSERT_EQ(
      run({"lock", place.bike(), "--pick", kDesign, "-o", lock, "--set", "currency=<&\">"}).code,
      0);
  place.edit("parts.yaml", "id: gate-x", "id: gate-y");
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 58 V");
  place.edit("parts.yaml", "price: 520", "price: 820");
  const std::string file = place.file("report.xml");
  EXPECT_EQ(run({"check", lock, "--junit", file}).code, 1);
  const Xml xml(file);
  ASSERT_TRUE(xml.well_formed());
  EXPECT_EQ(xml.number("count(//failure)"), 3);
  EXPECT_EQ(xml.number("number(/testsuites/@failures)"), 3);
  EXPECT_TRUE(contains(xml.text("//testcase[@name='controllers gate-x']/failure/@message"),
                       "renamed to gate-y?"));
  EXPECT_TRUE(
      contains(xml.text("//testcase[@name='controllers gate-x']/failure/@message"), "<&\">"));
  EXPECT_TRUE(contains(xml.text("//testcase[@name='price']/failure/@message"), "may move"));
  EXPECT_TRUE(contains(xml.text("//testcase[@name='motor voltage']/failure/@message"),
                       "value 58.4000 V, limit 58.0000 V"));
}

}  // namespace
}  // namespace sprocketry::test::tiny
