#pragma once

#include <optional>
#include <vector>

#include <QTabWidget>

#include "window/look_back/moment.h"
#include "window/look_back/pass_views.h"

class QLabel;
class QVBoxLayout;

namespace loftbeat::window {

class TallPage;

// One practice, looked at: what to practise, the beat, the joins. What is chosen in it is a moment.
class ReviewView : public QTabWidget {
  Q_OBJECT

 public:
  explicit ReviewView(QWidget* parent = nullptr);

  // Null: nothing is shown. Pages that others have added stay.
  void show_practice(ShownPractice practice, const Theme& theme);
  // Shows where a moment is: in the ribbon of its pass.
  void point_at(const Moment& moment);

 signals:
  void moment_chosen(const Moment& moment);

 private:
  void fill_sentences();
  void fill_current();
  void fill_ribbons();
  void add_ribbons(QVBoxLayout* column);
  void fill_joins();
  void add_finding(QVBoxLayout* column, const practice::Finding& finding);
  [[nodiscard]] QString place_words(const practice::Finding& finding, const Moment& moment) const;
  TallPage* add_page(const QString& title, const QString& name);

  ShownPractice practice_;
  TallPage* sentences_;
  TallPage* beat_;
  TallPage* joins_;
  std::vector<TallPage*> waiting_;  // to be filled
  std::vector<RibbonView*> ribbons_;
  std::optional<Moment> pointed_at_;
  Theme theme_;
};

// A line of words that wraps, can be read by a screen reader and copied.
[[nodiscard]] QLabel* make_words(const QString& text);
[[nodiscard]] QLabel* make_heading(const QString& text);

}  // namespace loftbeat::window
