#include <array>

#include "model/constants.hpp"
#include "report/guard_drawing.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr double kPerMetre = 1000;  // mm
constexpr double kTextHeight = 4.5;
constexpr double kLine = 7;
constexpr double kDegree = 180.0 / model::kPi;

// Tagged values in pairs of lines, as DXF R12 has them.
class Dxf {
 public:
  explicit Dxf(std::ostream& out) : out_(&out) {}

  void tag(int code, std::string_view value) { *out_ << code << '\n' << value << '\n'; }
  void number(int code, double value) { tag(code, rounded(value, 6)); }
  void point(int code, const model::PlanePoint& p) {
    number(code, p.x * kPerMetre);
    number(code + 10, p.y * kPerMetre);
    number(code + 20, 0);
  }

  void line(std::string_view layer, const model::PlanePoint& a, const model::PlanePoint& b) {
    begin("LINE", layer);
    point(10, a);
    point(11, b);
  }
  void circle(std::string_view layer, const model::PlanePoint& centre, double radius) {
    begin("CIRCLE", layer);
    point(10, centre);
    number(40, radius * kPerMetre);
  }
  void arc(std::string_view layer, const model::OutlinePiece& piece) {
    begin("ARC", layer);
    point(10, piece.centre);
    number(40, piece.radius * kPerMetre);
    number(50, piece.start_angle * kDegree);
    number(51, piece.end_angle * kDegree);
  }
  void text(const model::PlanePoint& at, std::string_view words) {
    begin("TEXT", "NOTES");
    point(10, at);
    number(40, kTextHeight);
    tag(1, ascii(words));
  }

 private:
  void begin(std::string_view entity, std::string_view layer) {
    tag(0, entity);
    tag(8, layer);
  }
  // R12 knows no encoding: what is not ASCII becomes a question mark, once a letter.
  static std::string ascii(std::string_view words) {
    std::string result;
    for (const char c : words) {
      const auto byte = static_cast<unsigned char>(c);
      if (byte >= 0x80) {
        if (byte >= 0xC0) result += '?';
      } else {
        result += byte < 0x20 ? ' ' : c;
      }
    }
    return result;
  }

  std::ostream* out_;
};

void write_header(Dxf& dxf, const GuardDrawing& g) {
  dxf.tag(0, "SECTION");
  dxf.tag(2, "HEADER");
  dxf.tag(9, "$ACADVER");
  dxf.tag(1, "AC1009");
  dxf.tag(9, "$EXTMIN");
  dxf.point(10, g.least);
  dxf.tag(9, "$EXTMAX");
  dxf.point(10, g.most);
  dxf.tag(0, "ENDSEC");
}

void write_layers(Dxf& dxf) {
  constexpr std::array kLayers = {"GUARD", "TEETH", "CENTRES", "CHECK_BAR", "NOTES"};
  dxf.tag(0, "SECTION");
  dxf.tag(2, "TABLES");
  dxf.tag(0, "TABLE");
  dxf.tag(2, "LAYER");
  dxf.tag(70, std::to_string(kLayers.size()));
  for (const char* layer : kLayers) {
    dxf.tag(0, "LAYER");
    dxf.tag(2, layer);
    dxf.tag(70, "0");
    dxf.tag(62, "7");
    dxf.tag(6, "CONTINUOUS");
  }
  dxf.tag(0, "ENDTAB");
  dxf.tag(0, "ENDSEC");
}

void write_entities(Dxf& dxf, const GuardDrawing& g) {
  for (const model::OutlinePiece& piece : g.outline) {
    if (piece.arc) {
      dxf.arc("GUARD", piece);
    } else {
      dxf.line("GUARD", piece.from, piece.to);
    }
  }
  for (const GuardCircle& c : g.teeth) dxf.circle("TEETH", c.centre, c.radius);
  constexpr double kArm = 0.004;
  for (const model::PlanePoint& c : g.centres) {
    dxf.line("CENTRES", {c.x - kArm, c.y}, {c.x + kArm, c.y});
    dxf.line("CENTRES", {c.x, c.y - kArm}, {c.x, c.y + kArm});
  }
  dxf.line("CHECK_BAR", g.bar_from, g.bar_to);
  dxf.text({g.bar_to.x + kArm, g.bar_to.y}, "100 mm");
  model::PlanePoint at = g.bar_from;
  at.y -= kLine / kPerMetre;
  dxf.text(at, g.title);
  for (const std::string& note : g.notes) {
    at.y -= kLine / kPerMetre;
    dxf.text(at, note);
  }
}

}  // namespace

void write_guard_dxf(std::ostream& out, const GuardDrawing& g) {
  Dxf dxf(out);
  write_header(dxf, g);
  write_layers(dxf);
  dxf.tag(0, "SECTION");
  dxf.tag(2, "ENTITIES");
  write_entities(dxf, g);
  dxf.tag(0, "ENDSEC");
  dxf.tag(0, "EOF");
}

}  // namespace sprocketry::report
