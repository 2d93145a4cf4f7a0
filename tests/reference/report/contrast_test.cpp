// Source: WCAG 2.1. Contrast of the page's colours after WCAG 2.1: relative luminance and contrast
// ratio as defined there (https://www.w3.org/TR/WCAG21/#dfn-contrast-ratio); success
// criterion 1.4.3 asks 4.5 to 1 of text.

#include <algorithm>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "report/palette.h"

namespace loftbeat::report {
namespace {

double channel(const std::string& colour, std::size_t at) {
  const double value = std::stoi(colour.substr(at, 2), nullptr, 16) / 255.0;
  return value <= 0.03928 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

double luminance(const std::string& colour) {
  return 0.2126 * channel(colour, 1) + 0.7152 * channel(colour, 3) + 0.0722 * channel(colour, 5);
}

double contrast(const std::string& a, const std::string& b) {
  const double one = luminance(a);
  const double other = luminance(b);
  return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

TEST(Contrast, ReckonedAsTheStandardSays) {
  EXPECT_NEAR(contrast("#000000", "#ffffff"), 21.0, 1e-9);
  EXPECT_NEAR(contrast("#777777", "#ffffff"), 4.48, 0.005);
}

TEST(Contrast, OfEveryInkOnEveryGroundIsEnough) {
  for (const Tint& ink : kTints) {
    if (ink.use != Tint::Use::ink) continue;
    for (const Tint& ground : kTints) {
      if (ground.use != Tint::Use::ground) continue;
      EXPECT_GE(contrast(ink.light, ground.light), std::string("rule") == ink.name ? 3.0 : 4.5)
          << ink.name << " on " << ground.name << ", light";
      EXPECT_GE(contrast(ink.dark, ground.dark), 4.5) << ink.name << " on " << ground.name;
    }
  }
}

}  // namespace
}  // namespace loftbeat::report
