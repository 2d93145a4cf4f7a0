#include "window/keys/keys_place.h"

#include <utility>

#include <QDateTime>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QShortcut>
#include <QSplitter>
#include <QTextEdit>
#include <QVBoxLayout>

#include "app/listen_room.h"
#include "live/devices/midi_ports.h"
#include "music/read.h"
#include "organ/organ.h"
#include "plan/read.h"
#include "window/desk/stop_switches.h"
#include "window/desk/words.h"
#include "window/keys/choices_panel.h"
#include "window/keys/input_words.h"
#include "window/keys/now_view.h"
#include "window/keys/simulated_take.h"

namespace loftbeat::window {
namespace {

using State = PracticeSight::State;

constexpr int kLookEveryMs = 16;
constexpr int kChoicesWidth = 300;

bool is_listening(const PracticeSight& sight) { return sight.state != State::closed; }
bool can_begin(const PracticeSight& sight) {
  return sight.state == State::waiting || sight.state == State::counting ||
         sight.state == State::playing;
}

}  // namespace

KeysPlace::KeysPlace(Desk& desk, QWidget* parent)
    : Place(parent), desk_(desk), now_(new NowView), choices_(new ChoicesPanel(desk)) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  auto* halves = new QSplitter;
  halves->addWidget(left_side());
  halves->addWidget(right_side());
  halves->setStretchFactor(0, 3);
  halves->setStretchFactor(1, 1);
  halves->setChildrenCollapsible(false);
  row->addWidget(halves);
  const auto look_anew = [this] {
    now_->set_theme(desk_.theme());
    now_->set_shows_drift(choices_->choices().shown == PracticeChoices::Shown::place_and_drift
                              ? app::ListenOrder::Shown::place_and_drift
                              : app::ListenOrder::Shown::place);
  };
  look_anew();
  connect(&desk_, &Desk::look_changed, this, look_anew);
  connect(choices_, &ChoicesPanel::chosen, this, look_anew);
  connect(&desk_, &Desk::plan_changed, this, &KeysPlace::take_plan);
  connect(&timer_, &QTimer::timeout, this, &KeysPlace::look);
  timer_.setTimerType(Qt::PreciseTimer);
  take_plan();
  show_sight();
  show_input();
}

KeysPlace::~KeysPlace() = default;

QPushButton* KeysPlace::add_button(QWidget* parent, const QString& text, const QString& meaning) {
  auto* button = new QPushButton(text);
  button->setMinimumHeight(kTarget);
  button->setAccessibleName(QString(text).remove(QLatin1Char('&')));
  button->setToolTip(meaning);
  button->setAccessibleDescription(meaning);
  parent->layout()->addWidget(button);
  return button;
}

QWidget* KeysPlace::left_side() {
  auto* side = new QWidget;
  auto* column = new QVBoxLayout(side);
  input_ = new QLabel;
  input_->setWordWrap(true);
  input_->setAccessibleName(tr("What comes from the keyboard"));
  caution_ = new QLabel;
  caution_->setWordWrap(true);
  caution_->setText(tr("Sound is on: turn the volume low first, above all with headphones."));
  caution_->setVisible(false);
  said_ = new QTextEdit;
  said_->setReadOnly(true);
  said_->setAccessibleName(tr("What was said"));
  said_->setTabChangesFocus(true);
  said_->setMinimumHeight(90);
  column->addWidget(input_);
  column->addWidget(caution_);
  column->addWidget(now_, 4);
  column->addWidget(said_, 1);
  auto* row = new QWidget;
  new QHBoxLayout(row);
  row->layout()->setContentsMargins(0, 0, 0, 0);
  listen_ = add_button(row, tr("&Listen to me"), tr("Opens the keyboard and what sounds."));
  begin_ = add_button(row, tr("&Count me in"), tr("Enter does the same."));
  simulated_ = add_button(row, tr("&Try without a keyboard"),
                          tr("A simulated player plays the hymn, so that you see what happens."));
  look_back_ = add_button(row, tr("Look back at it"), tr("Shows the last practice whole."));
  column->addWidget(row);
  connect(listen_, &QPushButton::clicked, this, &KeysPlace::leave_or_listen);
  connect(begin_, &QPushButton::clicked, this, &KeysPlace::begin_or_end);
  connect(simulated_, &QPushButton::clicked, this, &KeysPlace::try_without_keyboard);
  connect(look_back_, &QPushButton::clicked, this,
          [this] { emit desk_.look_back_wanted(words(sight_.kept)); });
  auto* enter = new QShortcut(QKeySequence(Qt::Key_Return), this);
  enter->setContext(Qt::WidgetWithChildrenShortcut);
  connect(enter, &QShortcut::activated, this, &KeysPlace::begin_or_end);
  return side;
}

QWidget* KeysPlace::right_side() {
  auto* halves = new QSplitter(Qt::Vertical);
  auto* choices = new QScrollArea;
  choices->setWidgetResizable(true);
  choices->setWidget(choices_);
  choices->setMinimumWidth(kChoicesWidth);
  choices->setFrameShape(QFrame::NoFrame);
  stops_area_ = new QScrollArea;
  stops_area_->setWidgetResizable(true);
  stops_area_->setFrameShape(QFrame::NoFrame);
  stops_area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  halves->addWidget(choices);
  halves->addWidget(stops_area_);
  halves->setChildrenCollapsible(false);
  return halves;
}

void KeysPlace::entered() {
  look_for_inputs();
  look();
}

void KeysPlace::closing() { thread_.close(); }

void KeysPlace::look_for_inputs() {
  if (is_listening(sight_)) return;
  finding_.start([this](WorkState&) -> LongWork::Finish {
    std::vector<std::string> names;
    for (const live::MidiSystem& system : live::look_for_midi())
      names.insert(names.end(), system.inputs.begin(), system.inputs.end());
    return [this, names = std::move(names)] {
      inputs_ = names;
      choices_->set_inputs(names);
    };
  });
}

// The plan's organ gives the switches, its verses the joins.
void KeysPlace::take_plan() {
  delete stops_area_->takeWidget();
  stops_ = nullptr;
  const auto plan = plan::read_plan(desk_.plan().toStdString());
  stops_area_->setVisible(false);
  if (!plan) return;
  choices_->set_verses(plan->verses.value_or(200));
  if (plan->organ_path.empty()) return;
  const auto organ = organ::read_organ(plan->organ_path);
  if (!organ) return;
  stops_ = new StopSwitches(*organ, StopSwitches::Couplers::left_out);
  stops_->setAccessibleName(tr("Stops"));
  connect(stops_, &StopSwitches::stop_wanted, this, [this](std::size_t stop, bool) {
    thread_.ask({app::ListenWish::What::stop, stop});
  });
  stops_area_->setWidget(stops_);
  stops_area_->setVisible(true);
}

void KeysPlace::open(app::ListenOrder order) {
  said_->clear();
  caution_->setVisible(order.ranks == app::ListenOrder::Ranks::speak || order.singing > 0);
  messages_ = 0;
  practices_ = 0;
  since_message_.start();
  thread_.open(std::move(order));
  look();
}

void KeysPlace::listen() {
  const std::string practices = desk_.parish().practices();
  app::recover_unfinished(practices, [this](const std::string& told) { add_said(told); });
  open(order_of(choices_->choices(), desk_.plan().toStdString(), practices, inputs_));
}

void KeysPlace::try_without_keyboard() {
  const std::string plan = desk_.plan().toStdString();
  const std::string take = scratch_.filePath(QStringLiteral("player.mid")).toStdString();
  const auto seed = static_cast<std::uint64_t>(QDateTime::currentMSecsSinceEpoch());
  preparing_.start([this, plan, take, seed](WorkState&) -> LongWork::Finish {
    const Status written = write_simulated_take(plan, seed, take);
    return [this, plan, take, written] {
      if (!written) return add_said(to_string(written.error()));
      PracticeChoices choices = choices_->choices();
      choices.part = PracticeChoices::Part::whole;
      app::ListenOrder order = order_of(choices, plan, desk_.parish().practices(), {});
      order.replay_path = take;
      open(std::move(order));
    };
  });
}

void KeysPlace::leave_or_listen() {
  if (is_listening(sight_)) {
    thread_.leave();
  } else {
    listen();
  }
}

void KeysPlace::begin_or_end() {
  if (can_begin(sight_)) {
    thread_.ask({app::ListenWish::What::begin_or_end, 0});
  } else if (!is_listening(sight_)) {
    listen();
  }
}

void KeysPlace::look() {
  sight_ = thread_.look();
  for (const std::string& sentence : thread_.said()) add_said(sentence);
  if (sight_.messages != messages_) {
    messages_ = sight_.messages;
    since_message_.restart();
  }
  show_sight();
  show_input();
  if (sight_.practices != practices_ || sight_.state == State::closed) show_results();
  if (is_listening(sight_)) {
    if (!timer_.isActive()) timer_.start(kLookEveryMs);
  } else {
    timer_.stop();
  }
}

void KeysPlace::show_sight() {
  now_->set_sight(sight_);
  const bool listening = is_listening(sight_);
  const QString listen = listening ? tr("&Stop listening") : tr("&Listen to me");
  if (listen_->text() != listen) {
    listen_->setText(listen);
    listen_->setAccessibleName(QString(listen).remove(QLatin1Char('&')));
  }
  const bool begun = sight_.state == State::playing || sight_.state == State::counting;
  const QString begin = begun ? tr("&End here") : tr("&Count me in");
  if (begin_->text() != begin) {
    begin_->setText(begin);
    begin_->setAccessibleName(QString(begin).remove(QLatin1Char('&')));
  }
  begin_->setEnabled(can_begin(sight_) && !sight_.is_replay);
  simulated_->setEnabled(!listening && !desk_.plan().isEmpty());
  listen_->setEnabled(!desk_.plan().isEmpty());
  look_back_->setEnabled(!sight_.kept.empty());
  choices_->setEnabled(!listening);
  if (stops_ != nullptr) stops_->set_drawn(sight_.drawn);
}

void KeysPlace::show_input() {
  std::optional<double> quiet;
  if (since_message_.isValid()) quiet = static_cast<double>(since_message_.elapsed()) / 1000;
  const QString text = input_words(sight_, quiet);
  if (input_->text() != text) input_->setText(text);
}

void KeysPlace::show_results() {
  if (sight_.practices == practices_) return;
  practices_ = sight_.practices;
  for (const std::string& sentence : sight_.result) add_said(sentence);
  emit desk_.practice_kept(words(sight_.kept));
}

void KeysPlace::add_said(const std::string& sentence) { said_->append(words(sentence).trimmed()); }

}  // namespace loftbeat::window
