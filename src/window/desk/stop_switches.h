#pragma once

#include <cstddef>
#include <vector>

#include <QWidget>

#include "organ/organ.h"

class QGridLayout;
namespace loftbeat::window {

class TickButton;

// An organ's stops and couplers as plain labelled switches, listed by division and by where the
// hand finds them. A switch that is drawn carries a tick and stands out.
class StopSwitches : public QWidget {
  Q_OBJECT

 public:
  enum class Couplers { left_out, listed };
  // The organ is copied.
  StopSwitches(organ::Organ organ, Couplers couplers, QWidget* parent = nullptr);

  // Sorted indices, as organ::Registration has them. Emits nothing.
  void set_drawn(const std::vector<std::size_t>& stops,
                 const std::vector<std::size_t>& couplers = {});

 signals:
  // The player wants it drawn or pushed in; the switch waits for set_drawn() to show it.
  void stop_wanted(std::size_t stop, bool drawn);
  void coupler_wanted(std::size_t coupler, bool drawn);
  // The pointer or the keyboard's focus is on that stop: a wish to know what it would do.
  void stop_looked_at(std::size_t stop);
  void looked_away();

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

 private:
  // Switches under one title, in as many columns as there is room for.
  struct Group {
    QGridLayout* grid = nullptr;
    std::vector<TickButton*> switches;
    int columns = 0;
  };
  Group& add_group(const QString& title);
  static void lay_out(Group& group, int width);
  TickButton* make_switch(const std::string& name, const organ::Location& location);
  void add_division(std::size_t division);
  void add_couplers();

  organ::Organ organ_;
  std::vector<TickButton*> stops_;     // by index into Organ::stops
  std::vector<TickButton*> couplers_;  // by index into Organ::couplers; empty if left out
  std::vector<Group> groups_;
  QWidget* column_;
};

// "left, row 2, knob 3"; empty where the organ file does not say.
[[nodiscard]] QString location_words(const organ::Location& location);

}  // namespace loftbeat::window
