#include "report/front_picture.hpp"
#include "report/guard_drawing.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr double kMargin = 5;        // mm
constexpr double kPerMetre = 1000;   // mm
constexpr double kTextHeight = 4.5;  // mm
constexpr double kLine = 7;          // mm

// SVG's y points down.
class Page {
 public:
  explicit Page(const GuardDrawing& g) : g_(&g) {}
  [[nodiscard]] double width() const {
    return (g_->most.x - g_->least.x) * kPerMetre + 2 * kMargin;
  }
  [[nodiscard]] double height() const {
    return (g_->most.y - g_->least.y) * kPerMetre + 2 * kMargin;
  }
  [[nodiscard]] std::string x(double metres) const {
    return rounded((metres - g_->least.x) * kPerMetre + kMargin, 4);
  }
  [[nodiscard]] std::string y(double metres) const {
    return rounded((g_->most.y - metres) * kPerMetre + kMargin, 4);
  }

 private:
  const GuardDrawing* g_;
};

std::string millimetres(double metres) { return rounded(metres * kPerMetre, 4); }

void write_outline(std::ostream& out, const Page& page, const GuardDrawing& g) {
  const model::PlanePoint start = g.outline.front().from;
  out << "<path id=\"guard\" class=\"cut\" d=\"M" << page.x(start.x) << ' ' << page.y(start.y);
  for (const model::OutlinePiece& p : g.outline) {
    if (!p.arc) {
      out << " L" << page.x(p.to.x) << ' ' << page.y(p.to.y);
      continue;
    }
    const std::string radius = millimetres(p.radius);
    const bool large = p.end_angle - p.start_angle > 3.14159265358979;
    out << " A" << radius << ' ' << radius << " 0 " << (large ? 1 : 0) << " 0 " << page.x(p.to.x)
        << ' ' << page.y(p.to.y);
  }
  out << " Z\"/>\n";
}

void write_cross(std::ostream& out, const Page& page, const model::PlanePoint& at) {
  constexpr double kArm = 0.004;
  out << "<path class=\"thin\" d=\"M" << page.x(at.x - kArm) << ' ' << page.y(at.y) << " L"
      << page.x(at.x + kArm) << ' ' << page.y(at.y) << " M" << page.x(at.x) << ' '
      << page.y(at.y - kArm) << " L" << page.x(at.x) << ' ' << page.y(at.y + kArm) << "\"/>\n";
}

void write_text(std::ostream& out, const Page& page, const GuardDrawing& g) {
  const auto line = [&](int row, const std::string& text) {
    out << "<text x=\"" << page.x(g.bar_from.x) << "\" y=\""
        << page.y(g.bar_from.y - kLine * (row + 1) / kPerMetre) << "\">" << escaped(text)
        << "</text>\n";
  };
  line(0, g.title);
  for (std::size_t i = 0; i < g.notes.size(); ++i) line(static_cast<int>(i) + 1, g.notes[i]);
}

}  // namespace

void write_guard_svg(std::ostream& out, const GuardDrawing& g) {
  const Page page(g);
  out << R"(<?xml version="1.0" encoding="UTF-8"?>)" << '\n'
      << R"(<svg xmlns="http://www.w3.org/2000/svg" width=")" << rounded(page.width(), 4)
      << R"(mm" height=")" << rounded(page.height(), 4) << R"(mm" viewBox="0 0 )"
      << rounded(page.width(), 4) << ' ' << rounded(page.height(), 4) << "\">\n<title>"
      << escaped(g.title)
      << "</title>\n<style>path,circle{fill:none;stroke:#000}.cut{stroke-width:.35}"
         ".thin{stroke-width:.18}text{font:"
      << kTextHeight << "px sans-serif;fill:#000}</style>\n";
  write_outline(out, page, g);
  for (const GuardCircle& c : g.teeth) {
    out << "<circle class=\"thin\" cx=\"" << page.x(c.centre.x) << "\" cy=\"" << page.y(c.centre.y)
        << "\" r=\"" << millimetres(c.radius) << "\"/>\n";
  }
  for (const model::PlanePoint& centre : g.centres) write_cross(out, page, centre);
  constexpr double kTick = 0.002;
  out << "<path id=\"check_bar\" class=\"cut\" d=\"M" << page.x(g.bar_from.x) << ' '
      << page.y(g.bar_from.y) << " L" << page.x(g.bar_to.x) << ' ' << page.y(g.bar_to.y)
      << "\"/>\n<path class=\"cut\" d=\"M" << page.x(g.bar_from.x) << ' '
      << page.y(g.bar_from.y - kTick) << " L" << page.x(g.bar_from.x) << ' '
      << page.y(g.bar_from.y + kTick) << " M" << page.x(g.bar_to.x) << ' '
      << page.y(g.bar_to.y - kTick) << " L" << page.x(g.bar_to.x) << ' '
      << page.y(g.bar_to.y + kTick) << "\"/>\n<text x=\"" << page.x(g.bar_to.x + 0.004) << "\" y=\""
      << page.y(g.bar_to.y) << "\">100 mm</text>\n";
  write_text(out, page, g);
  out << "</svg>\n";
}

}  // namespace sprocketry::report
