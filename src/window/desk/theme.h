#pragma once

#include <QColor>
#include <QString>

class QApplication;

namespace loftbeat::window {

enum class Shade { light, dark };

// The window's colours, by what they are for: those of the report's pages (report/palette.h), so
// that what is behind, ahead or in time looks the same in both. Every ink keeps 4.5 to 1 against
// both grounds, lines 3 to 1 (WCAG 2.2 AA); a test reckons it.
struct Theme {
  QColor paper;  // grounds
  QColor card;
  QColor ink;   // inks
  QColor soft;  // less important words
  QColor rule;  // lines and frames
  QColor behind;
  QColor ahead;
  QColor sound;  // in time, well
};
[[nodiscard]] Theme theme_of(Shade shade);

// WCAG 2.2, "contrast ratio": 1 (none) to 21.
[[nodiscard]] double contrast(const QColor& a, const QColor& b);

// Type is set in percent of what the system uses: 100 to 200.
inline constexpr int kLeastScale = 100;
inline constexpr int kMostScale = 200;
inline constexpr int kScaleStep = 25;

// Dresses the whole program; `system_points`: the type size that the system uses, in points.
void dress(QApplication& app, Shade shade, int scale_percent, double system_points);

// What can be pressed while playing is at least so large, in pixels.
inline constexpr int kTarget = 44;

}  // namespace loftbeat::window
