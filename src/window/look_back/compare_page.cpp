#include "window/look_back/compare_page.h"

#include <algorithm>
#include <utility>

#include <QComboBox>
#include <QLabel>
#include <QSignalBlocker>
#include <QTableWidget>
#include <QVBoxLayout>

#include "practice/history.h"
#include "practice/words.h"
#include "report/numbers.h"
#include "report/words.h"
#include "window/desk/words.h"
#include "window/look_back/review_view.h"
#include "window/look_back/tables.h"

namespace loftbeat::window {
namespace {

const timing::PassMeasures* pass_named(const practice::Review& review, const std::string& name) {
  for (const timing::PassMeasures& pass : review.timing.passes)
    if (report::pass_name(review, pass.pass) == name) return &pass;
  return nullptr;
}

std::string row_name(const QString& text) { return text.toStdString(); }

void add_pass_rows(const practice::Review& one, const practice::Review& other,
                   report::Table& table) {
  for (const timing::PassMeasures& pass : one.timing.passes) {
    const std::string name = report::pass_name(one, pass.pass);
    const timing::PassMeasures* there = pass_named(other, name);
    table.rows.push_back(
        {{row_name(ComparePage::tr("Tempo of %1").arg(words(name)))},
         {report::write_figure(pass.tempo_bpm, report::kTempo)},
         {there ? report::write_figure(there->tempo_bpm, report::kTempo) : std::string("–")}});
  }
}

}  // namespace

report::Table compare_table(const app::ReviewedPractice& one, const app::ReviewedPractice& other) {
  const practice::PracticeFigures a = app::noted(one).figures;
  const practice::PracticeFigures b = app::noted(other).figures;
  report::Table table;
  table.columns = {{"", "", report::Column::Side::left},
                   {"", when_words(one.kept.when).toStdString()},
                   {"", when_words(other.kept.when).toStdString()}};
  const auto add = [&](const QString& name, practice::FigureOfPractice figure,
                       report::NumberStyle style) {
    table.rows.push_back({{row_name(name)},
                          {report::write_figure(a.*figure, style)},
                          {report::write_figure(b.*figure, style)}});
  };
  using practice::PracticeFigures;
  add(ComparePage::tr("Joins off by"), &PracticeFigures::join_error_ms, report::kMs);
  add(ComparePage::tr("Spread of the joins"), &PracticeFigures::join_spread_ms, report::kMs);
  add(ComparePage::tr("Beat steady within"), &PracticeFigures::steadiness_percent,
      report::kPercent);
  add(ComparePage::tr("Drift at the end of verses"), &PracticeFigures::end_drift_ms, report::kMs);
  table.rows.push_back({{row_name(ComparePage::tr("Stop moves clean"))},
                        {std::to_string(a.stops_clean)},
                        {std::to_string(b.stops_clean)}});
  table.rows.push_back({{row_name(ComparePage::tr("Stop moves at fault"))},
                        {std::to_string(a.stops_at_fault)},
                        {std::to_string(b.stops_at_fault)}});
  add_pass_rows(one.review, other.review, table);
  return table;
}

ComparePage::ComparePage(QWidget* parent)
    : TallPage(parent), others_(new QComboBox), body_(new QWidget) {
  auto* column = emptied();
  auto* label = new QLabel(tr("Compare with the practice of"));
  label->setBuddy(others_);
  others_->setAccessibleName(tr("Practice to compare with"));
  others_->setMinimumHeight(kTarget);
  column->addWidget(label);
  column->addWidget(others_);
  column->addWidget(body_, 1);
  connect(others_, &QComboBox::activated, this, [this](int index) {
    const QString folder = others_->itemData(index).toString();
    if (!folder.isEmpty()) emit other_wanted(folder);
  });
}

void ComparePage::show_practice(ShownPractice practice, const std::vector<ListedPractice>& all,
                                const Theme& theme) {
  const bool another = practice != practice_;
  practice_ = std::move(practice);
  theme_ = theme;
  if (another) other_ = nullptr;
  const QSignalBlocker quiet(others_);
  others_->clear();
  others_->addItem(tr("Choose one of the same hymn"), QString());
  for (const ListedPractice& one : all) {
    if (!practice_ || !one.trouble.empty() || one.label.tune != practice_->tune) continue;
    if (one.kept.name == practice_->kept.name) continue;
    others_->addItem(when_words(one.kept.when), words(one.kept.folder.path));
    if (other_ && other_->kept.name == one.kept.name)
      others_->setCurrentIndex(others_->count() - 1);
  }
  fill();
}

void ComparePage::show_other(ShownPractice other) {
  other_ = std::move(other);
  fill();
}

void ComparePage::fill() {
  delete body_->layout();
  qDeleteAll(body_->findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly));
  auto* column = new QVBoxLayout(body_);
  column->setContentsMargins(0, 0, 0, 0);
  if (practice_ && others_->count() < 2)
    column->addWidget(make_words(
        tr("There is no other practice of this hymn yet. Play it again, then compare.")));
  if (practice_ && other_) {
    column->addWidget(make_table(compare_table(*practice_, *other_), tr("Both in figures")));
    report::RibbonScale scale = report::ribbon_scale(practice_->review);
    const report::RibbonScale theirs = report::ribbon_scale(other_->review);
    if (theirs.drift_ms > scale.drift_ms) scale = theirs;
    for (const timing::PassMeasures& pass : practice_->review.timing.passes) {
      const std::string name = report::pass_name(practice_->review, pass.pass);
      const timing::PassMeasures* there = pass_named(other_->review, name);
      const QString title = words(practice::sentence_case(name));
      column->addWidget(
          make_heading(title + QStringLiteral(", ") + when_words(practice_->kept.when)));
      column->addWidget(new RibbonView(practice_, pass.pass, scale, theme_));
      if (there == nullptr) continue;
      column->addWidget(make_heading(title + QStringLiteral(", ") + when_words(other_->kept.when)));
      column->addWidget(new RibbonView(other_, there->pass, scale, theme_));
    }
  }
  column->addStretch(1);
}

}  // namespace loftbeat::window
