#include "window/look_back/review_view.h"

#include <algorithm>
#include <utility>

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QTimer>
#include <QVBoxLayout>

#include "practice/words.h"
#include "report/led.h"
#include "report/numbers.h"
#include "report/stops.h"
#include "report/summary.h"
#include "report/tables.h"
#include "report/words.h"
#include "window/desk/words.h"
#include "window/look_back/tables.h"
#include "window/look_back/tall_page.h"

namespace loftbeat::window {
namespace {

void add_lines(QVBoxLayout* column, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) column->addWidget(make_words(words(line)));
}

}  // namespace

QLabel* make_words(const QString& text) {
  auto* label = new QLabel(text);
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  label->setTextInteractionFlags(Qt::TextSelectableByMouse);
  return label;
}

QLabel* make_heading(const QString& text) {
  QLabel* label = make_words(text);
  QFont font = label->font();
  font.setBold(true);
  label->setFont(font);
  return label;
}

ReviewView::ReviewView(QWidget* parent) : QTabWidget(parent) {
  setAccessibleName(tr("Views of the practice"));
  sentences_ = add_page(tr("&What to practise"), tr("What to practise"));
  beat_ = add_page(tr("The &beat"), tr("The beat"));
  joins_ = add_page(tr("&Joins and stops"), tr("Joins and stops"));
  connect(this, &QTabWidget::currentChanged, this, &ReviewView::fill_current);
}

TallPage* ReviewView::add_page(const QString& title, const QString& name) {
  auto* page = new TallPage;
  addTab(TallPage::in_area(page, name), title);
  return page;
}

void ReviewView::show_practice(ShownPractice practice, const Theme& theme) {
  practice_ = std::move(practice);
  theme_ = theme;
  ribbons_.clear();
  pointed_at_.reset();
  for (TallPage* page : {sentences_, beat_, joins_}) page->emptied();
  waiting_ = {sentences_, beat_, joins_};
  fill_current();
}

// Each page is made when it is first looked at.
void ReviewView::fill_current() {
  for (TallPage* page : std::vector<TallPage*>(waiting_)) {
    if (currentWidget() == nullptr || !currentWidget()->isAncestorOf(page)) continue;
    std::erase(waiting_, page);
    if (page == sentences_) fill_sentences();
    if (page == beat_) fill_ribbons();
    if (page == joins_) fill_joins();
  }
}

// Where a finding happened, in a few words.
QString ReviewView::place_words(const practice::Finding& finding, const Moment& moment) const {
  const practice::Review& review = practice_->review;
  if (finding.join >= 0) return words(practice::join_name(review, finding.join));
  const QString pass = words(report::pass_name(review, moment.pass));
  return finding.bar.empty() ? pass : tr("%1, bar %2").arg(pass, words(finding.bar));
}

void ReviewView::add_finding(QVBoxLayout* column, const practice::Finding& finding) {
  const auto moment = moment_of_finding(practice_->review, finding);
  if (!moment) return;
  auto* row = new QHBoxLayout;
  auto* button = new QPushButton(tr("See and hear it: %1").arg(place_words(finding, *moment)));
  button->setAccessibleName(button->text());
  button->setAccessibleDescription(words(finding.sentence));
  button->setMinimumHeight(kTarget);
  row->addWidget(button);
  row->addStretch(1);
  column->addLayout(row);
  connect(button, &QPushButton::clicked, this, [this, moment] { emit moment_chosen(*moment); });
}

// The most useful sentence first and largest; below each the way to its place.
void ReviewView::fill_sentences() {
  QVBoxLayout* column = sentences_->emptied();
  if (!practice_) return;
  const practice::Review& review = practice_->review;
  for (std::size_t i = 0; i < review.advice.size(); ++i) {
    QLabel* label = make_words(words(review.advice[i]));
    QFont font = label->font();
    if (i == 0) font.setPointSizeF(font.pointSizeF() * 1.35);
    label->setFont(font);
    column->addWidget(label);
    // The sentences are those of the first findings (practice/sentences.h); praise has none.
    if (i < review.findings.size()) add_finding(column, review.findings[i]);
  }
  if (review.timing.play_over) {
    column->addWidget(make_heading(tr("The play-over against verse 1")));
    add_lines(column, report::play_over_lines(review));
  }
  if (review.led) {
    column->addWidget(make_heading(tr("Who led")));
    add_lines(column, report::led_lines(review));
  }
  column->addWidget(make_heading(tr("Each time through")));
  add_lines(column, {report::tempo_line(review), report::passes_line(review)});
  column->addWidget(make_table(report::pass_table(review), tr("Each time through, in figures")));
  const auto reasons = report::reason_lines(review);
  if (!reasons.empty()) column->addWidget(make_heading(tr("What is not known")));
  add_lines(column, reasons);
  for (const Notice& notice : review.notices)
    column->addWidget(make_words(words(to_string(notice))));
  column->addStretch(1);
}

void ReviewView::fill_ribbons() {
  QVBoxLayout* column = beat_->emptied();
  if (!practice_) return;
  column->addWidget(make_words(
      tr("The straight line is the set tempo. The ribbon hangs below it (hatched) where you were "
         "behind, and rises above it (dotted) where you were ahead. A hollow dot: nothing is "
         "struck there. h hesitation, c correction, r went back, ’ breath. Choose a beat to see "
         "its bar and to hear it.")));
  add_ribbons(column);
}

// Some at a time, so that an hour's take does not hold up the window.
void ReviewView::add_ribbons(QVBoxLayout* column) {
  constexpr std::size_t kAtOnce = 12;
  const practice::Review& review = practice_->review;
  const report::RibbonScale scale = report::ribbon_scale(review);
  const std::size_t until = std::min(ribbons_.size() + kAtOnce, review.timing.passes.size());
  for (std::size_t i = ribbons_.size(); i < until; ++i) {
    const timing::PassMeasures& pass = review.timing.passes[i];
    QString title = words(practice::sentence_case(report::pass_name(review, pass.pass)));
    if (pass.tempo_bpm)
      title += tr(": tempo %1").arg(words(report::write_number(*pass.tempo_bpm, report::kTempo)));
    if (pass.tempo_offset_percent)
      title +=
          tr(", %1 against the set tempo")
              .arg(words(report::write_number(*pass.tempo_offset_percent, report::kSignedPercent)));
    column->addWidget(make_heading(title));
    auto* ribbon = new RibbonView(practice_, pass.pass, scale, theme_);
    ribbons_.push_back(ribbon);
    column->addWidget(ribbon);
    connect(ribbon, &RibbonView::beat_chosen, this, [this](int in_pass, int beat) {
      emit moment_chosen(moment_of_beat(practice_->review, in_pass, beat));
    });
  }
  if (pointed_at_) point_at(*pointed_at_);
  if (until == review.timing.passes.size()) return column->addStretch(1);
  QTimer::singleShot(0, column, [this, column] { add_ribbons(column); });
}

void ReviewView::fill_joins() {
  QVBoxLayout* column = joins_->emptied();
  if (!practice_) return;
  const practice::Review& review = practice_->review;
  if (!review.timing.joins.empty())
    column->addWidget(make_words(
        tr("From the last chord (beat 0) to the next entry. Above, what was planned: the chord, "
           "silence, the entry (open diamond). Below, what you played. In the ruled band an entry "
           "is in time; the thick line is the error.")));
  const double beats = report::strip_beats(review);
  for (std::size_t i = 0; i < review.timing.joins.size(); ++i) {
    const auto join = static_cast<int>(i);
    column->addWidget(make_heading(moment_words(review, moment_of_join(review, join))));
    auto* strip = new JoinView(practice_, join, beats, theme_);
    column->addWidget(strip);
    connect(strip, &JoinView::join_chosen, this,
            [this](int chosen) { emit moment_chosen(moment_of_join(practice_->review, chosen)); });
  }
  if (!review.timing.joins.empty())
    column->addWidget(make_table(report::join_table(review), tr("The joins in figures")));
  column->addWidget(make_heading(tr("The stops at the joins")));
  const report::Table stops = report::stop_table(review);
  if (!stops.rows.empty()) column->addWidget(make_table(stops, tr("Stop moves")));
  add_lines(column, report::stop_lines(review));
  column->addStretch(1);
}

void ReviewView::point_at(const Moment& moment) {
  pointed_at_ = moment;
  for (RibbonView* ribbon : ribbons_)
    ribbon->choose(ribbon->pass() == moment.pass && moment.join < 0 ? moment.beat : -1);
}

}  // namespace loftbeat::window
