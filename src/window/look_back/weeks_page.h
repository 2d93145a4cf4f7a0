#pragma once

#include <vector>

#include "practice/history.h"
#include "window/desk/theme.h"
#include "window/look_back/tall_page.h"

namespace loftbeat::window {

// How a tune went over the weeks: one sentence, three figures drawn, all practices in a table.
class WeeksPage : public TallPage {
  Q_OBJECT

 public:
  explicit WeeksPage(QWidget* parent = nullptr);
  // `tune`: the one that is shown; `left_out`: a sentence for each practice that could not be read.
  void show_histories(const std::vector<practice::TuneHistory>& histories, const std::string& tune,
                      const std::vector<std::string>& left_out, const Theme& theme);

 signals:
  void practice_opened(const QString& folder);  // by its name

 private:
  void show_tune(QVBoxLayout* column, const practice::TuneHistory& history, const Theme& theme);
};

}  // namespace loftbeat::window
