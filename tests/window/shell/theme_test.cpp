// Contrast against the ground. Source: WCAG 2.2, success criteria 1.4.3 (text, level AA: at least
// 4.5 to 1) and 1.4.11 (what shows where a control ends: 3 to 1); the formula of its "contrast
// ratio" (black on white: 21).

#include <gtest/gtest.h>

#include "window/window.h"

namespace loftbeat::window {
namespace {

TEST(Theme, ContrastIsReckonedAsTheGuidelinesDo) {
  EXPECT_NEAR(contrast(Qt::black, Qt::white), 21, 1e-9);
  EXPECT_NEAR(contrast(Qt::white, Qt::white), 1, 1e-12);
  // #767676 on white is the lightest grey that passes 4.5.
  EXPECT_GE(contrast(QColor("#767676"), Qt::white), 4.5);
  EXPECT_LT(contrast(QColor("#777777"), Qt::white), 4.5);
}

TEST(Theme, EveryInkCanBeReadOnBothGrounds) {
  for (const Shade shade : {Shade::light, Shade::dark}) {
    const Theme theme = theme_of(shade);
    for (const QColor& ground : {theme.paper, theme.card})
      for (const QColor& ink : {theme.ink, theme.soft, theme.behind, theme.ahead, theme.sound})
        EXPECT_GE(contrast(ink, ground), 4.5)
            << ink.name().toStdString() << " on " << ground.name().toStdString();
    EXPECT_GE(contrast(theme.rule, theme.paper), 3);
    EXPECT_GE(contrast(theme.rule, theme.card), 3);
  }
}

}  // namespace
}  // namespace loftbeat::window
