#include "window/look_back/stops_dialog.h"

#include <algorithm>
#include <utility>
#include <vector>

#include <QDialog>
#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include "window/desk/stop_switches.h"

namespace loftbeat::window {
namespace {

void move_in(std::vector<std::size_t>& drawn, std::size_t index, bool in) {
  std::erase(drawn, index);
  if (in) drawn.insert(std::upper_bound(drawn.begin(), drawn.end(), index), index);
}

}  // namespace

std::optional<organ::Registration> ask_for_stops(const organ::Organ& organ,
                                                 organ::Registration drawn, QWidget* parent) {
  QDialog dialog(parent);
  dialog.setWindowTitle(QDialog::tr("Stops to hear the take with"));
  auto* column = new QVBoxLayout(&dialog);
  auto* switches = new StopSwitches(organ, StopSwitches::Couplers::listed);
  const auto show = [&] { switches->set_drawn(drawn.stops, drawn.couplers); };
  show();
  QObject::connect(switches, &StopSwitches::stop_wanted, &dialog, [&](std::size_t stop, bool in) {
    move_in(drawn.stops, stop, in);
    show();
  });
  QObject::connect(switches, &StopSwitches::coupler_wanted, &dialog,
                   [&](std::size_t coupler, bool in) {
                     move_in(drawn.couplers, coupler, in);
                     show();
                   });
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setAccessibleName(QDialog::tr("Stops"));
  area->setWidget(switches);
  column->addWidget(area, 1);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
  buttons->button(QDialogButtonBox::Ok)->setText(QDialog::tr("Hear with these"));
  column->addWidget(buttons);
  QObject::connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  dialog.resize(560, 520);
  if (dialog.exec() != QDialog::Accepted) return std::nullopt;
  return drawn;
}

}  // namespace loftbeat::window
