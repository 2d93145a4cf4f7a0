#pragma once

#include <string>
#include <vector>

#include <QWidget>

#include "app/kept_practice.h"

class QComboBox;
class QLabel;
class QListWidget;

namespace loftbeat::window {

// A practice as it is listed: what it was of, or why that cannot be told.
struct ListedPractice {
  app::KeptPractice kept;
  app::PracticeLabel label;
  std::string trouble;  // a sentence; empty: it could be read
};

// Reads what lies in the folder of practices; a folder that is not there holds none.
[[nodiscard]] std::vector<ListedPractice> list_practices(const std::string& sessions);

// "Fri 27 Nov 2026, 09:18", as the user's language has it; as it is if it is no such time.
[[nodiscard]] QString when_words(const std::string& when);
// How it was made: "with clicks, join 2 only"; empty for a whole hymn played freely.
[[nodiscard]] QString manner_words(const practice::PracticeNote& note);

// The practices by date, the newest first, of one tune or of all.
class PracticeList : public QWidget {
  Q_OBJECT

 public:
  explicit PracticeList(QWidget* parent = nullptr);

  // The choice stays where it was, if it is still there. Emits nothing.
  void show_practices(std::vector<ListedPractice> practices);
  [[nodiscard]] const std::vector<ListedPractice>& practices() const { return practices_; }
  // As by the user. False: not there.
  bool choose(const std::string& folder);

 signals:
  // The folder's path.
  void practice_chosen(const QString& folder);

 private:
  void fill_tunes();
  void fill_list();
  void chosen(int row);

  std::vector<ListedPractice> practices_;
  QComboBox* tunes_;
  QListWidget* list_;
  QLabel* none_;
};

}  // namespace loftbeat::window
