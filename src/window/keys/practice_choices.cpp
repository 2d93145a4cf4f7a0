#include "window/keys/practice_choices.h"

#include <algorithm>

namespace loftbeat::window {
namespace {

QString key(const char* name) { return QStringLiteral("keys/") + QLatin1String(name); }

// A choice among `count` things, kept as its number; what is out of range is the given one.
template <typename Choice>
Choice choice(const QSettings& settings, const char* name, Choice given, int count) {
  const int number = settings.value(key(name), static_cast<int>(given)).toInt();
  return number >= 0 && number < count ? static_cast<Choice>(number) : given;
}

int number(const QSettings& settings, const char* name, int given, int least, int most) {
  return std::clamp(settings.value(key(name), given).toInt(), least, most);
}

live::ClickMode click_of(PracticeChoices::Click click) {
  switch (click) {
    case PracticeChoices::Click::off: return live::ClickMode::off;
    case PracticeChoices::Click::always: return live::ClickMode::always;
    case PracticeChoices::Click::rests: return live::ClickMode::rests;
    case PracticeChoices::Click::count_in: break;
  }
  return live::ClickMode::count_in;
}

}  // namespace

PracticeChoices read_choices(const QSettings& settings) {
  const PracticeChoices usual;
  PracticeChoices read;
  read.part = choice(settings, "part", usual.part, 3);
  read.join_verse = number(settings, "join", usual.join_verse, 1, 200);
  read.click = choice(settings, "click", usual.click, 4);
  read.ranks = choice(settings, "ranks", usual.ranks, 2);
  read.volume_db = number(settings, "volume", usual.volume_db, -60, 0);
  read.singing = number(settings, "singing", usual.singing, 0, 300);
  read.reluctance_percent = number(settings, "reluctance", usual.reluctance_percent, 0, 8);
  read.stops = choice(settings, "stops", usual.stops, 2);
  read.shown = choice(settings, "shown", usual.shown, 2);
  read.input = settings.value(key("input")).toString().toStdString();
  read.signal = settings.value(key("signal")).toString().toStdString();
  return read;
}

void write_choices(const PracticeChoices& choices, QSettings& settings) {
  settings.setValue(key("part"), static_cast<int>(choices.part));
  settings.setValue(key("join"), choices.join_verse);
  settings.setValue(key("click"), static_cast<int>(choices.click));
  settings.setValue(key("ranks"), static_cast<int>(choices.ranks));
  settings.setValue(key("volume"), choices.volume_db);
  settings.setValue(key("singing"), choices.singing);
  settings.setValue(key("reluctance"), choices.reluctance_percent);
  settings.setValue(key("stops"), static_cast<int>(choices.stops));
  settings.setValue(key("shown"), static_cast<int>(choices.shown));
  settings.setValue(key("input"), QString::fromStdString(choices.input));
  settings.setValue(key("signal"), QString::fromStdString(choices.signal));
}

app::ListenOrder order_of(const PracticeChoices& choices, const std::string& plan,
                          const std::string& practices, const std::vector<std::string>& inputs) {
  app::ListenOrder order;
  order.plan_path = plan;
  order.sessions = practices;
  if (choices.input.empty()) {
    for (const std::string& name : inputs) order.inputs.push_back({name, ""});
  } else {
    order.inputs.push_back({choices.input, ""});
  }
  // The count-in alone may be seen instead of heard; anything else that clicks needs a device.
  if (choices.click != PracticeChoices::Click::count_in) order.click = click_of(choices.click);
  if (choices.ranks == PracticeChoices::Ranks::speak) order.ranks = app::ListenOrder::Ranks::speak;
  order.volume_db = choices.volume_db;
  order.singing = choices.singing;
  order.reluctance_percent = choices.reluctance_percent;
  if (choices.stops == PracticeChoices::Stops::plan)
    order.stops_by = app::ListenOrder::StopsBy::plan;
  order.signal = app::signal_from(choices.signal);
  if (choices.part == PracticeChoices::Part::play_over)
    order.only.what = app::Only::What::play_over;
  if (choices.part == PracticeChoices::Part::join)
    order.only = {app::Only::What::join, choices.join_verse};
  return order;
}

}  // namespace loftbeat::window
