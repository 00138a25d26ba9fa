#include "print/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace strikebed::print {
namespace {

std::string place(double number) { return fmt::format("{:.1f}", std::isfinite(number) ? number : 0.0); }

}  // namespace

std::string escape_markup(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default: {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x20 ? byte != 0x7F : c == '\n' || c == '\t') out += c;
      }
    }
  }
  return out;
}

double Scale::at(double number) const {
  if (!std::isfinite(number) || to == from) return start;
  return start + (number - from) / (to - from) * (end - start);
}

std::vector<double> round_ticks(double low, double high, int most) {
  std::vector<double> ticks;
  if (!(high > low) || !std::isfinite(high - low)) return ticks;
  const double decade = std::pow(10.0, std::floor(std::log10((high - low) / most)));
  double step = 10 * decade;
  for (const double times : {1.0, 2.0, 2.5, 5.0}) {
    if (std::floor(high / (times * decade)) - std::ceil(low / (times * decade)) + 1 <= most) {
      step = times * decade;
      break;
    }
  }
  constexpr double kRoundingNoise = 1e-9;
  for (double i = std::ceil(low / step - kRoundingNoise); i * step <= high + kRoundingNoise * step; i += 1)
    ticks.push_back(i * step + 0.0);
  return ticks;
}

double round_above(double number) {
  if (!std::isfinite(number) || number <= 1) return 1;
  const double decade = std::pow(10.0, std::floor(std::log10(number)));
  for (const double times : {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0}) {
    if (times * decade >= number) return times * decade;
  }
  return 10 * decade;
}

Picture::Picture(std::string_view id, std::string_view title, std::string_view description, double width, double height)
    : body_(fmt::format("<svg role=\"img\" viewBox=\"0 0 {:.0f} {:.0f}\" aria-labelledby=\"{}-title {}-desc\">\n"
                        "<title id=\"{}-title\">{}</title>\n<desc id=\"{}-desc\">{}</desc>\n",
                        width, height, id, id, id, escape_markup(title), id, escape_markup(description))) {}

void Picture::rectangle(double x, double y, double width, double height, std::string_view style) {
  body_ += fmt::format("<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"2\"/>\n", style, place(x),
                       place(y), place(std::max(0.0, width)), place(std::max(0.0, height)));
}

void Picture::line(double x1, double y1, double x2, double y2, std::string_view style) {
  body_ += fmt::format("<line class=\"{}\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>\n", style, place(x1), place(y1),
                       place(x2), place(y2));
}

void Picture::dot(double x, double y, double radius, std::string_view style) {
  body_ +=
      fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", style, place(x), place(y), place(radius));
}

void Picture::path(const std::vector<std::pair<double, double>>& points, std::string_view style) {
  if (points.empty()) return;
  body_ += fmt::format("<polyline class=\"{}\" points=\"", style);
  for (std::size_t i = 0; i < points.size(); ++i) {
    body_ += fmt::format("{}{},{}", i > 0 ? " " : "", place(points[i].first), place(points[i].second));
  }
  body_ += "\"/>\n";
}

void Picture::words(double x, double y, std::string_view text, Anchor anchor, std::string_view style) {
  static constexpr std::array<std::string_view, 3> kAnchors = {"start", "middle", "end"};
  body_ += fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\" text-anchor=\"{}\">{}</text>\n", style, place(x), place(y),
                       kAnchors[static_cast<std::size_t>(anchor)], escape_markup(text));
}

std::string Picture::done() const {
  std::string text = body_;
  text += "</svg>\n";
  return text;
}

std::string picture_style() {
  std::string css =
      "svg{display:block;width:100%;height:auto;font-size:13px}\n"
      "svg "
      "text{fill:INK;stroke:SHEET;stroke-width:4px;stroke-linejoin:round;paint-order:stroke;font-variant-numeric:"
      "tabular-nums}\n"
      "svg .quiet{fill:QUIET}\n"
      "svg .strong{font-weight:bold}\n"
      "svg .on-dark{fill:SHEET;stroke:none}\n"
      "svg .on-light{fill:INK;stroke:none}\n"
      "svg .spare{fill:SHEET;stroke:CLAY;stroke-width:1}\n"
      "svg .grid{stroke:HAIRLINE;stroke-width:1}\n"
      "svg .axis{stroke:QUIET;stroke-width:1}\n"
      "svg .limit{stroke:CLAY;stroke-width:1.5;stroke-dasharray:5 3}\n"
      "svg .asked{stroke:CLAY;stroke-width:3}\n"
      "svg .date-line{stroke:INK;stroke-width:1.5;stroke-dasharray:2 3}\n"
      "svg .whisker{stroke:INK;stroke-width:1.5}\n"
      "svg .halo{stroke:SHEET;stroke-width:3.6}\n"
      "svg .needle{fill:NEEDLE}\n"
      "svg .shoot{fill:SHOOT}\n"
      "svg .clay{fill:CLAY}\n"
      "svg .sand{fill:SAND;stroke:SANDEDGE;stroke-width:1}\n"
      "svg .ink{fill:INK}\n"
      "svg .open{fill:SHEET;stroke:INK;stroke-width:1.5}\n"
      "svg .curve{fill:none;stroke:NEEDLE;stroke-width:2.5;stroke-linejoin:round}\n"
      "svg .spread{stroke:NEEDLE;stroke-width:7;stroke-linecap:round}\n"
      "svg .cross{stroke:CLAY;stroke-width:2}\n";
  const auto paint = [&](std::string_view word, std::string_view colour) {
    for (std::size_t at = css.find(word); at != std::string::npos; at = css.find(word, at))
      css.replace(at, word.size(), colour);
  };
  paint("SANDEDGE", kSandEdge);
  paint("INK", kInk);
  paint("QUIET", kQuiet);
  paint("SHEET", kSheet);
  paint("HAIRLINE", kHairline);
  paint("CLAY", kClay);
  paint("NEEDLE", kNeedle);
  paint("SHOOT", kShoot);
  paint("SAND", kSand);
  return css;
}

}  // namespace strikebed::print
