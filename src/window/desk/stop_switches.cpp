#include "window/desk/stop_switches.h"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include <QEvent>
#include <QGridLayout>
#include <QLabel>
#include <QResizeEvent>
#include <QVBoxLayout>

#include "window/desk/theme.h"
#include "window/desk/tick_button.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

constexpr std::array kSides = {organ::Side::left, organ::Side::right, organ::Side::above,
                               organ::Side::unknown};

QString side_words(organ::Side side) {
  switch (side) {
    case organ::Side::left: return StopSwitches::tr("left hand");
    case organ::Side::right: return StopSwitches::tr("right hand");
    case organ::Side::above: return StopSwitches::tr("above the keys");
    case organ::Side::unknown: break;
  }
  return {};
}

void show_all(const std::vector<TickButton*>& buttons, const std::vector<std::size_t>& drawn) {
  for (std::size_t i = 0; i < buttons.size(); ++i)
    if (buttons[i] != nullptr)
      buttons[i]->set_in(std::binary_search(drawn.begin(), drawn.end(), i));
}

}  // namespace

QString location_words(const organ::Location& location) {
  const QString side = side_words(location.side);
  if (side.isEmpty() || location.row == 0 || location.place == 0) return side;
  return StopSwitches::tr("%1, row %2, place %3").arg(side).arg(location.row).arg(location.place);
}

StopSwitches::StopSwitches(organ::Organ organ, Couplers couplers, QWidget* parent)
    : QWidget(parent), organ_(std::move(organ)), stops_(organ_.stops.size()), column_(new QWidget) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 0, 0, 0);
  new QVBoxLayout(column_);
  column_->layout()->setContentsMargins(0, 0, 0, 0);
  layout->addWidget(column_);
  layout->addStretch(1);
  for (std::size_t division = 0; division < organ_.divisions.size(); ++division)
    add_division(division);
  if (couplers == Couplers::listed) add_couplers();
  for (Group& group : groups_) lay_out(group, 1);  // one column, until the width is known
}

TickButton* StopSwitches::make_switch(const std::string& name, const organ::Location& location) {
  auto* button = new TickButton(words(name));
  button->setMinimumHeight(kTarget);
  const QString where = location_words(location);
  button->setToolTip(where);
  button->setAccessibleDescription(where);
  button->installEventFilter(this);
  return button;
}

StopSwitches::Group& StopSwitches::add_group(const QString& title) {
  auto* label = new QLabel(title);
  label->setStyleSheet(QStringLiteral("font-weight: bold;"));
  column_->layout()->addWidget(label);
  auto* box = new QWidget;
  auto* grid = new QGridLayout(box);
  grid->setContentsMargins(0, 0, 0, 6);
  column_->layout()->addWidget(box);
  groups_.push_back({grid, {}, 0});
  return groups_.back();
}

void StopSwitches::lay_out(Group& group, int width) {
  int widest = 1;
  for (const TickButton* button : group.switches)
    widest = std::max(widest, button->sizeHint().width());
  const int columns = std::max(
      1, (width + group.grid->horizontalSpacing()) / (widest + group.grid->horizontalSpacing()));
  if (columns == group.columns) return;
  group.columns = columns;
  for (std::size_t i = 0; i < group.switches.size(); ++i)
    group.grid->addWidget(group.switches[i], static_cast<int>(i) / columns,
                          static_cast<int>(i) % columns);
}

void StopSwitches::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  for (Group& group : groups_) lay_out(group, width());
}

// A division's stops, one group for each side where they are found.
void StopSwitches::add_division(std::size_t division) {
  for (const organ::Side side : kSides) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < organ_.stops.size(); ++i)
      if (organ_.stops[i].division == division && organ_.stops[i].location.side == side)
        found.push_back(i);
    if (found.empty()) continue;
    std::stable_sort(found.begin(), found.end(), [this](std::size_t a, std::size_t b) {
      const organ::Location& p = organ_.stops[a].location;
      const organ::Location& q = organ_.stops[b].location;
      return std::tie(p.row, p.place) < std::tie(q.row, q.place);
    });
    QString title = words(organ_.divisions[division].name);
    if (side != organ::Side::unknown) title += QStringLiteral(", ") + side_words(side);
    Group& group = add_group(title);
    for (const std::size_t stop : found) {
      const organ::Stop& engraved = organ_.stops[stop];
      TickButton* button = make_switch(engraved.name + " " + engraved.pitch, engraved.location);
      button->setAccessibleName(words(organ::full_name(organ_, engraved)));
      connect(button, &TickButton::wanted, this,
              [this, stop](bool in) { emit stop_wanted(stop, in); });
      stops_[stop] = button;
      group.switches.push_back(button);
    }
  }
}

void StopSwitches::add_couplers() {
  if (organ_.couplers.empty()) return;
  Group& group = add_group(tr("Couplers"));
  for (std::size_t i = 0; i < organ_.couplers.size(); ++i) {
    TickButton* button = make_switch(organ_.couplers[i].name, organ_.couplers[i].location);
    connect(button, &TickButton::wanted, this, [this, i](bool in) { emit coupler_wanted(i, in); });
    couplers_.push_back(button);
    group.switches.push_back(button);
  }
}

void StopSwitches::set_drawn(const std::vector<std::size_t>& stops,
                             const std::vector<std::size_t>& couplers) {
  show_all(stops_, stops);
  show_all(couplers_, couplers);
}

bool StopSwitches::eventFilter(QObject* watched, QEvent* event) {
  const auto kind = event->type();
  if (kind == QEvent::Enter || kind == QEvent::FocusIn) {
    const auto found = std::find(stops_.begin(), stops_.end(), watched);
    if (found != stops_.end())
      emit stop_looked_at(static_cast<std::size_t>(found - stops_.begin()));
  } else if (kind == QEvent::Leave || kind == QEvent::FocusOut) {
    emit looked_away();
  }
  return QWidget::eventFilter(watched, event);
}

}  // namespace loftbeat::window
