#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#include <gtest/gtest.h>
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <libxml/xpathInternals.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cli/launch.hpp"
#include "model/constants.hpp"

namespace sprocketry::test::tiny {
namespace {

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words guard(const Workplace& place, const Words& more) {
  Words words = {"guard", place.bike(), "--pick", kDesign};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

// What another library reads out of a drawing.
class Reader : public DL_CreationAdapter {
 public:
  void addLine(const DL_LineData& line) override {
    if (layer() == "GUARD") {
      reach(line.x1, line.y1);
      reach(line.x2, line.y2);
      ++lines;
    }
    if (layer() == "CHECK_BAR") bar = std::hypot(line.x2 - line.x1, line.y2 - line.y1);
  }
  void addArc(const DL_ArcData& arc) override {
    if (layer() != "GUARD") return;
    ++arcs;
    double from = arc.angle1 * model::kPi / 180;
    double to = arc.angle2 * model::kPi / 180;
    if (to < from) to += 2 * model::kPi;
    for (int i = 0; i <= 10000; ++i) {
      const double angle = from + (to - from) * i / 10000;
      reach(arc.cx + arc.radius * std::cos(angle), arc.cy + arc.radius * std::sin(angle));
    }
  }
  void addCircle(const DL_CircleData& circle) override { circles.push_back(circle.radius); }
  void addText(const DL_TextData& text) override { texts.push_back(text.text); }
  void addLayer(const DL_LayerData& data) override { layers.push_back(data.name); }

  int lines = 0, arcs = 0;
  double bar = 0;
  double left = 1e9, right = -1e9, bottom = 1e9, top = -1e9;
  std::vector<double> circles;
  std::vector<std::string> texts, layers;

 private:
  std::string layer() { return getAttributes().getLayer(); }
  void reach(double x, double y) {
    left = std::min(left, x);
    right = std::max(right, x);
    bottom = std::min(bottom, y);
    top = std::max(top, y);
  }
};

Reader read_dxf(const std::string& text) {
  Reader reader;
  std::istringstream in(text);
  DL_Dxf dxf;
  EXPECT_TRUE(dxf.in(in, &reader));
  return reader;
}

// Radii that the plates reach: pitch diameters 57.07 and 242.66 mm (p/sin(180/N)) with plates 0.95
// p high.
constexpr double kFront = 0.5 * 12.7 / 0.2225209339563144 + 0.475 * 12.7;
constexpr double kRear = 0.5 * 12.7 / 0.0523359562429438 + 0.475 * 12.7;

TEST(Guard, IsReadBackByAnotherLibraryWithItsExtents) {
  const Workplace place;
  const Outcome outcome = run(guard(place, {"--format", "dxf"}));
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const Reader dxf = read_dxf(outcome.out);
  EXPECT_NEAR(dxf.bar, 100, 1e-6);
  EXPECT_NEAR(dxf.left, -(kFront + 20), 1e-3);
  EXPECT_NEAR(dxf.right, 592 + kRear + 20, 1e-3);
  EXPECT_NEAR(dxf.top, kRear + 20, 1e-3);
  EXPECT_NEAR(dxf.bottom, -(kRear + 20), 1e-3);
  EXPECT_EQ(dxf.circles.size(), 2U);
  EXPECT_EQ(dxf.layers, (Words{"GUARD", "TEETH", "CENTRES", "CHECK_BAR", "NOTES"}));
  EXPECT_GE(dxf.arcs, 4);
  EXPECT_GE(dxf.lines, 4);
  EXPECT_TRUE(std::ranges::any_of(
      dxf.texts, [](const std::string& text) { return contains(text, "100 mm on paper"); }));
}

TEST(Guard, GrowsByTheClearance) {
  const Workplace place;
  const Reader dxf = read_dxf(run(guard(place, {"--format", "dxf", "--clearance", "1 in"})).out);
  EXPECT_NEAR(dxf.top, kRear + 25.4, 1e-3);
  EXPECT_NEAR(dxf.left, -(kFront + 25.4), 1e-3);
}

std::string attribute(xmlDoc* document, const char* path) {
  xmlXPathContext* context = xmlXPathNewContext(document);
  xmlXPathRegisterNs(context, BAD_CAST "s", BAD_CAST "http://www.w3.org/2000/svg");
  xmlXPathObject* found = xmlXPathEvalExpression(BAD_CAST path, context);
  xmlChar* text = xmlXPathCastToString(found);
  const std::string result = reinterpret_cast<const char*>(text);
  xmlFree(text);
  xmlXPathFreeObject(found);
  xmlXPathFreeContext(context);
  return result;
}

TEST(Guard, IsAnSvgAtFullSize) {
  const Workplace place;
  const Outcome outcome = run(guard(place, {}));
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  xmlDoc* document = xmlReadMemory(outcome.out.data(), static_cast<int>(outcome.out.size()),
                                   "guard", nullptr, XML_PARSE_NONET);
  ASSERT_NE(document, nullptr);
  const std::string width = attribute(document, "/s:svg/@width");
  const std::string view = attribute(document, "/s:svg/@viewBox");
  EXPECT_TRUE(contains(width, "mm"));
  EXPECT_EQ(split(view, ' ')[2] + "mm", width);
  EXPECT_NEAR(std::stod(width), kFront + kRear + 40 + 592 + 10, 1e-3);
  const Words bar = split(attribute(document, "//s:path[@id='check_bar']/@d"), ' ');
  ASSERT_EQ(bar.size(), 4U);
  EXPECT_NEAR(std::stod(bar[2].substr(1)) - std::stod(bar[0].substr(1)), 100, 1e-3);
  xmlFreeDoc(document);
}

TEST(Guard, RefusesAClearanceThatIsNone) {
  const Workplace place;
  for (const char* wrong : {"0 mm", "20", "3 kg", "1 m", "-20 mm", ""}) {
    const Outcome outcome = run(guard(place, {"--clearance", wrong}));
    EXPECT_EQ(outcome.code, 2) << wrong;
    EXPECT_TRUE(contains(outcome.err, "--clearance")) << outcome.err;
    EXPECT_TRUE(outcome.out.empty());
  }
}

TEST(Guard, IsNotDrawnWhereNoChainFits) {
  const Workplace place;
  const Outcome outcome =
      run(guard(place, {"--set", "bike.centre_distance={min: 575 mm, max: 576 mm}"}));
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(outcome.out.empty());
  EXPECT_TRUE(contains(outcome.err, "no chain fits"));
}

}  // namespace
}  // namespace sprocketry::test::tiny
