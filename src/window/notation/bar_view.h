#pragma once

#include <memory>
#include <vector>

#include <QColor>

#include "music/score.h"
#include "window/notation/bar_picture.h"
#include "window/notation/spoken_picture.h"

namespace loftbeat::window {

// Bars of a score in ordinary notation. A note can be chosen: by mouse; with the keys left and
// right from onset to onset, up and down among the notes that sound together there. The chosen one
// stands in a frame, marked ones in a ring with a word above, so that nothing hangs on a colour.
class BarView : public SpokenPicture {
  Q_OBJECT

 public:
  struct Mark {
    int note = -1;  // index into Score::notes
    QString words;  // short: "missed"
  };
  struct Inks {
    QColor ink;
    QColor mark;
    QColor chosen;
  };

  explicit BarView(QWidget* parent = nullptr);

  // Bars [first, first + count) as far as the score has them; the marks and the choice go. A null
  // score, or one without bars, shows nothing.
  void show_bars(std::shared_ptr<const music::Score> score, std::size_t first,
                 std::size_t count = 1);
  void set_marks(std::vector<Mark> marks);
  void set_inks(const Inks& inks);
  // -1: none. Tells nobody.
  void choose(int note);
  [[nodiscard]] int chosen() const { return chosen_; }
  [[nodiscard]] std::size_t first_bar() const { return first_; }
  [[nodiscard]] const BarPicture& picture() const { return picture_; }
  // Where a note's head is in the widget; its last if it has several.
  [[nodiscard]] QPointF head_of(int note) const;

  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

 signals:
  // The user chose it.
  void note_chosen(int note);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void changeEvent(QEvent* event) override;

 private:
  [[nodiscard]] double scale() const;
  [[nodiscard]] double left() const;  // bars stand in the middle of the widget
  [[nodiscard]] double unit() const;  // pixels of one unit where there is room enough
  void choose_by_user(int note);
  [[nodiscard]] int beside(int step) const;
  [[nodiscard]] int above(int step) const;
  void tell();

  std::shared_ptr<const music::Score> score_;
  std::size_t first_ = 0;
  BarPicture picture_;
  std::vector<Mark> marks_;
  Inks inks_;
  int chosen_ = -1;
};

}  // namespace loftbeat::window
