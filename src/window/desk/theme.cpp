#include "window/desk/theme.h"

#include <cmath>
#include <string_view>

#include <QApplication>
#include <QFont>
#include <QPalette>
#include <QStyleFactory>

#include "report/palette.h"

namespace loftbeat::window {
namespace {

QColor tint(std::string_view name, Shade shade) {
  for (const report::Tint& tint : report::kTints)
    if (name == tint.name) return {shade == Shade::light ? tint.light : tint.dark};
  return {};
}

double linear(double channel) {
  return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double luminance(const QColor& color) {
  return 0.2126 * linear(color.redF()) + 0.7152 * linear(color.greenF()) +
         0.0722 * linear(color.blueF());
}

QPalette palette_of(const Theme& theme) {
  QPalette palette;
  palette.setColor(QPalette::Window, theme.paper);
  palette.setColor(QPalette::WindowText, theme.ink);
  palette.setColor(QPalette::Base, theme.card);
  palette.setColor(QPalette::AlternateBase, theme.paper);
  palette.setColor(QPalette::Text, theme.ink);
  palette.setColor(QPalette::PlaceholderText, theme.soft);
  palette.setColor(QPalette::Button, theme.card);
  palette.setColor(QPalette::ButtonText, theme.ink);
  palette.setColor(QPalette::BrightText, theme.behind);
  palette.setColor(QPalette::ToolTipBase, theme.card);
  palette.setColor(QPalette::ToolTipText, theme.ink);
  palette.setColor(QPalette::Highlight, theme.ahead);
  palette.setColor(QPalette::HighlightedText, theme.paper);
  palette.setColor(QPalette::Link, theme.ahead);
  for (const QPalette::ColorRole role : {QPalette::Light, QPalette::Midlight, QPalette::Mid})
    palette.setColor(role, theme.rule);
  palette.setColor(QPalette::Disabled, QPalette::ButtonText, theme.soft);
  palette.setColor(QPalette::Disabled, QPalette::WindowText, theme.soft);
  palette.setColor(QPalette::Disabled, QPalette::Text, theme.soft);
  return palette;
}

// What the style draws too thin or too small: the frame that shows where the keys are, and room
// for a finger.
QString sheet_of(const Theme& theme) {
  return QStringLiteral(
             "QPushButton, QToolButton, QLineEdit"
             "{ border: 1px solid %1; border-radius: 4px; padding: 6px 10px; min-height: 30px;"
             "  background: %2; color: %3; }"
             "QPushButton:checked, QToolButton:checked { background: %3; color: %4; }"
             "QPushButton:focus, QToolButton:focus, QLineEdit:focus, QListView:focus,"
             "QTreeView:focus { border: 3px solid %5; padding: 4px 8px; }"
             "QPushButton:disabled, QToolButton:disabled { color: %6; border-style: dashed; }"
             "QToolTip { color: %3; background: %2; border: 1px solid %1; padding: 4px; }"
             "QListView::item { padding: 6px; }")
      .arg(theme.rule.name(), theme.card.name(), theme.ink.name(), theme.paper.name(),
           theme.ahead.name(), theme.soft.name());
}

}  // namespace

Theme theme_of(Shade shade) {
  return {tint("paper", shade), tint("card", shade),   tint("ink", shade),   tint("soft", shade),
          tint("rule", shade),  tint("behind", shade), tint("ahead", shade), tint("sound", shade)};
}

double contrast(const QColor& a, const QColor& b) {
  const double first = luminance(a) + 0.05;
  const double second = luminance(b) + 0.05;
  return first > second ? first / second : second / first;
}

void dress(QApplication& app, Shade shade, int scale_percent, double system_points) {
  const Theme theme = theme_of(shade);
  QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
  QApplication::setPalette(palette_of(theme));
  QFont font = QApplication::font();
  font.setPointSizeF(system_points * scale_percent / 100.0);
  QApplication::setFont(font);
  app.setStyleSheet(sheet_of(theme));
}

}  // namespace loftbeat::window
