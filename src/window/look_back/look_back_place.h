#pragma once

#include <string>
#include <vector>

#include "window/desk/desk.h"
#include "window/desk/long_work.h"
#include "window/desk/place.h"
#include "window/look_back/hearing.h"
#include "window/look_back/moment.h"
#include "window/look_back/pass_views.h"
#include "window/look_back/saving.h"

class QLabel;
class QPushButton;
class QSplitter;

namespace loftbeat::window {

class ComparePage;
class MomentPane;
class PracticeList;
class ReviewView;
class WeeksPage;
class WorkBar;

// Where one looks back: the practices that were kept, one of them in full, a moment of it with its
// bar and its sound, two beside each other, and how a tune went over the weeks.
class LookBackPlace : public Place {
  Q_OBJECT

 public:
  // `desk` must outlive this.
  explicit LookBackPlace(Desk& desk, QWidget* parent = nullptr);
  ~LookBackPlace() override;

  void entered() override;
  void left() override;
  void closing() override;

  // Opens a practice by its folder, as if it had been chosen in the list.
  void open(const QString& folder);
  [[nodiscard]] const ShownPractice& practice() const { return practice_; }
  // Writes it under that name; where there is such a file already, asks first.
  void save(SaveAs kind, const QString& path);

 signals:
  void opened();  // a practice is shown
  void saved(const QString& path);
  void told(const QString& sentence);  // something went wrong, or is done

 private:
  QWidget* right_side();
  QWidget* head_row();
  void list_again();
  void open_newest();
  void load(const QString& folder);
  void show_practice(ShownPractice practice);
  void show_moment(const Moment& moment);
  void give_room();
  void hear(double from_s);
  void load_other(const QString& folder);
  void load_weeks();
  void page_changed(int index);
  void ask_where_to_save(SaveAs kind);
  void tell(const QString& sentence);

  Desk& desk_;
  ShownPractice practice_;
  QString wanted_;  // opened as soon as it is listed
  LongWork listing_;
  LongWork loading_;
  LongWork weeks_work_;
  LongWork saving_;
  Hearing hearing_;

  PracticeList* list_;
  ReviewView* views_;
  ComparePage* compare_;
  WeeksPage* weeks_;
  MomentPane* moment_;
  QSplitter* halves_;
  QLabel* title_;
  QLabel* said_;
  QPushButton* save_;
  std::vector<WorkBar*> bars_;
};

}  // namespace loftbeat::window
