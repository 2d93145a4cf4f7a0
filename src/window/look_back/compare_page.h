#pragma once

#include <vector>

#include "report/table.h"
#include "window/look_back/pass_views.h"
#include "window/look_back/practice_list.h"
#include "window/look_back/tall_page.h"

class QComboBox;

namespace loftbeat::window {

// Two practices of one hymn beside each other: figures in a table, then pass by pass both ribbons
// on one scale.
class ComparePage : public TallPage {
  Q_OBJECT

 public:
  explicit ComparePage(QWidget* parent = nullptr);

  // The practice that is looked at, and those it can be compared with.
  void show_practice(ShownPractice practice, const std::vector<ListedPractice>& all,
                     const Theme& theme);
  void show_other(ShownPractice other);

 signals:
  // The user wants this one beside it: its folder.
  void other_wanted(const QString& folder);

 private:
  void fill();

  ShownPractice practice_;
  ShownPractice other_;
  Theme theme_;
  QComboBox* others_;
  QWidget* body_;
};

// The figures of both, one row each.
[[nodiscard]] report::Table compare_table(const app::ReviewedPractice& one,
                                          const app::ReviewedPractice& other);

}  // namespace loftbeat::window
