#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include <QWidget>

#include "organ/organ.h"
#include "window/desk/desk.h"
#include "window/desk/stop_switches.h"
#include "window/prepare/judgement.h"
#include "window/prepare/plan_sketch.h"

class QButtonGroup;
class QHBoxLayout;
class QLabel;
class QScrollArea;
class QSlider;

namespace loftbeat::window {

class TickButton;

// One pass after another: what is drawn, how the swell box stands, the texture; and beside it what
// the check says of this pass and of the move that leads into it.
class PassPanel : public QWidget {
  Q_OBJECT

 public:
  // Both must outlive this.
  PassPanel(Desk& desk, PlanSketch& sketch, QWidget* parent = nullptr);
  ~PassPanel() override;

  // What the check found; null while nothing is known.
  void set_judgement(std::shared_ptr<const Judgement> judgement);
  void choose_pass(std::size_t pass);
  [[nodiscard]] std::size_t pass() const { return pass_; }
  // The label of the chosen pass: "play-over", "1"; empty without any.
  [[nodiscard]] std::string pass_label() const;

 signals:
  void pass_chosen(std::size_t pass);
  void stop_looked_at(std::size_t stop);
  void looked_away();

 private:
  void make_passes();
  void make_switches();
  void show_pass();
  void show_findings();
  void set_drawn(organ::Registration drawn, const QString& words);
  void take_textures();
  [[nodiscard]] const plan::RoutePass* route_pass() const;
  [[nodiscard]] plan::PassPlan* plan_of(plan::Plan& plan) const;

  Desk& desk_;
  PlanSketch& sketch_;
  std::shared_ptr<const Judgement> judgement_;
  std::vector<organ::Registration> drawn_;  // by pass; ahead of the judgement after an edit
  std::size_t pass_ = 0;
  std::string organ_file_;  // whose switches are shown
  bool showing_ = false;

  QWidget* passes_;
  QButtonGroup* pass_buttons_ = nullptr;
  QLabel* findings_;
  std::vector<TickButton*> textures_;
  QSlider* swell_;
  QLabel* swell_words_;
  QScrollArea* switches_area_;
  StopSwitches* switches_ = nullptr;
};

}  // namespace loftbeat::window
