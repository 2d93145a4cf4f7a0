#include "window/look_back/weeks_page.h"

#include <algorithm>
#include <memory>

#include <QLabel>
#include <QTableWidget>
#include <QVBoxLayout>

#include "practice/words.h"
#include "report/history_text.h"
#include "window/desk/words.h"
#include "window/look_back/review_view.h"
#include "window/look_back/tables.h"
#include "window/look_back/trend_view.h"

namespace loftbeat::window {

WeeksPage::WeeksPage(QWidget* parent) : TallPage(parent) {}

void WeeksPage::show_histories(const std::vector<practice::TuneHistory>& histories,
                               const std::string& tune, const std::vector<std::string>& left_out,
                               const Theme& theme) {
  QVBoxLayout* column = emptied();
  const auto found = std::find_if(histories.begin(), histories.end(),
                                  [&](const auto& history) { return history.tune == tune; });
  if (found != histories.end()) {
    show_tune(column, *found, theme);
  } else {
    column->addWidget(make_words(tr("Nothing is known of this tune yet.")));
  }
  if (!left_out.empty()) column->addWidget(make_heading(tr("Practices that could not be read")));
  for (const std::string& line : left_out) column->addWidget(make_words(words(line)));
  column->addStretch(1);
}

void WeeksPage::show_tune(QVBoxLayout* column, const practice::TuneHistory& history,
                          const Theme& theme) {
  const std::string need = practice::need_sentence(practice::need_of(history));
  QLabel* first = make_words(words(practice::sentence_case(need)) + QLatin1Char('.'));
  QFont font = first->font();
  font.setPointSizeF(font.pointSizeF() * 1.35);
  first->setFont(font);
  column->addWidget(first);
  column->addWidget(make_words(
      tr("Within the ruled band a figure is tolerated. Left and right go from practice to "
         "practice, Enter opens one.")));
  const auto shared = std::make_shared<const practice::TuneHistory>(history);
  using practice::PracticeFigures;
  const std::vector<TrendView::Figure> figures = {
      {tr("How far the joins were off"), &PracticeFigures::join_error_ms,
       practice::kToleratedJoinMs, report::kMs},
      {tr("Within what the beat was steady"), &PracticeFigures::steadiness_percent,
       practice::kToleratedSteadinessPercent, report::kPercent},
      {tr("How far verses ended from the set tempo"), &PracticeFigures::end_drift_ms,
       practice::kToleratedEndDriftMs, report::kMs}};
  for (const TrendView::Figure& figure : figures) {
    column->addWidget(make_heading(figure.name));
    auto* view = new TrendView(shared, figure, theme);
    column->addWidget(view);
    connect(view, &TrendView::practice_opened, this, &WeeksPage::practice_opened);
  }
  if (!history.practices.empty())
    column->addWidget(
        make_table(report::practices_table(history.practices), tr("Every practice in figures")));
  if (!history.cold.empty()) {
    column->addWidget(make_heading(tr("First tries of a day")));
    column->addWidget(
        make_table(report::practices_table(history.cold), tr("First tries of a day")));
  }
  if (history.under_clicks > 0)
    column->addWidget(make_words(
        tr("%n practice(s) under a sounding click are left out: they show following, not keeping.",
           "", history.under_clicks)));
}

}  // namespace loftbeat::window
