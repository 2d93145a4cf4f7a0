#pragma once

#include <memory>

#include "window/desk/desk.h"
#include "window/desk/long_work.h"
#include "window/desk/place.h"
#include "window/desk/sounding.h"
#include "window/prepare/judgement.h"
#include "window/prepare/plan_sketch.h"

class QComboBox;
class QLabel;
class QPushButton;
class QSpinBox;

namespace loftbeat::window {

class BrightnessLadder;
class HymnPanel;
class PassPanel;
struct Offer;

// Where a hymn is made ready: chosen, registered pass by pass, checked as one edits, heard, and
// printed as a card. The plan's file is written when one leaves, or on Save.
class PreparePlace : public Place {
  Q_OBJECT

 public:
  // `desk` must outlive this.
  explicit PreparePlace(Desk& desk, QWidget* parent = nullptr);
  ~PreparePlace() override;

  void entered() override;
  void left() override { save(); }
  void closing() override;

  [[nodiscard]] const PlanSketch& sketch() const { return sketch_; }
  // The newest; null until the first is there.
  [[nodiscard]] const std::shared_ptr<const Judgement>& judgement() const { return judgement_; }
  // Writes the card of the plan as it stands; the ending says what: .pdf, .svg or .html.
  void save_card(const QString& path);

 private:
  QWidget* right_side();
  QWidget* foot();
  QPushButton* add_button(QWidget* row, const QString& text, const QString& meaning);
  void open(const QString& path);
  void choose(const QString& path, bool is_plan);
  void judge_anew();
  void take_judgement(const std::shared_ptr<const Judgement>& judgement);
  void preview(std::size_t stop);
  void suggest();
  void take_offer(const Offer& offer);
  void hear();
  void print_card();
  void ask_where_to_save_card();
  void save();
  void tell(const QString& words);

  Desk& desk_;
  PlanSketch sketch_;
  std::shared_ptr<const Judgement> judgement_;
  LongWork judging_;
  LongWork suggesting_;
  Sounding sounding_;

  HymnPanel* hymn_;
  PassPanel* pass_;
  BrightnessLadder* ladder_;
  QLabel* all_findings_;
  QLabel* told_;
  QPushButton* suggest_;
  QPushButton* hear_;
  QComboBox* part_;
  QSpinBox* line_;
  QSpinBox* volume_;
};

}  // namespace loftbeat::window
