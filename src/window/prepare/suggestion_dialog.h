#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <QDialog>

#include "advise/planner.h"
#include "app/checked_plan.h"

class QButtonGroup;

namespace loftbeat::window {

// Up to three ways to register the hymn, each with what it gives up; one may be taken.
struct OfferedPlan {
  std::string name;                   // "evenly weighed"
  std::vector<std::string> gives_up;  // sentences
  std::vector<std::string> passes;    // "verse 1: Great Open Diapason 8, ..."
  plan::Plan plan;                    // with the registrations in it
};
struct Offer {
  std::vector<OfferedPlan> plans;
  std::string trouble;  // why there is none, with what to do
};
// Any thread; some tenths of a second for a large organ.
[[nodiscard]] Offer make_offer(const plan::Plan& plan);

class SuggestionDialog : public QDialog {
  Q_OBJECT

 public:
  explicit SuggestionDialog(const Offer& offer, QWidget* parent = nullptr);
  // Index into Offer::plans.
  [[nodiscard]] int chosen() const;

 private:
  QButtonGroup* choices_;
};

}  // namespace loftbeat::window
