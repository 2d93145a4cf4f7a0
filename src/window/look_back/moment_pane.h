#pragma once

#include <optional>
#include <string>
#include <vector>

#include <QWidget>

#include "organ/organ.h"
#include "window/look_back/moment.h"
#include "window/look_back/pass_views.h"

class QComboBox;
class QLabel;
class QPushButton;

namespace loftbeat::window {

class BarView;

// The stops with which a take is to be heard. Empty names: as it was played, or as planned.
struct HeardStops {
  QString name;
  std::string stops;  // with commas
  std::string couplers;
};

// The place that one looks at: what happened there, its bar, and hearing the take from there.
class MomentPane : public QWidget {
  Q_OBJECT

 public:
  explicit MomentPane(QWidget* parent = nullptr);

  // Null: nothing. What was chosen of another practice goes.
  void show_practice(ShownPractice practice, const Theme& theme);
  void show_moment(const Moment& moment);
  // Where the sound is: the bar and the words follow, the place to hear from stays.
  void follow(double seconds);
  void set_sounding(bool sounding);
  void say(const QString& sentence);

  [[nodiscard]] const std::optional<Moment>& moment() const { return moment_; }
  [[nodiscard]] const HeardStops& heard_stops() const;

 signals:
  void moment_chosen(const Moment& moment);  // by the buttons for bars
  void hear_wanted(double from_s);
  void stop_wanted();

 protected:
  void hideEvent(QHideEvent* event) override;

 private:
  QWidget* bar_row();
  QWidget* hear_row();
  QPushButton* add_button(QWidget* row, const QString& text, const QString& name);
  void fill_stops();
  void stops_chosen(int index);
  void choose_others();
  void show_bar(const Moment& moment);
  void step(int bars);

  ShownPractice practice_;
  std::shared_ptr<const music::Score> score_;
  std::optional<organ::Organ> organ_;
  std::optional<Moment> moment_;
  std::optional<Moment> followed_;
  std::vector<HeardStops> choices_;
  organ::Registration others_;
  int before_others_ = 0;

  QLabel* words_;
  QWidget* bars_ = nullptr;  // bar_ with the buttons beside it
  BarView* bar_;
  QPushButton* back_;
  QPushButton* on_;
  QPushButton* hear_;
  QPushButton* stop_;
  QComboBox* stops_;
  QLabel* said_;
};

}  // namespace loftbeat::window
