#include "window/look_back/practice_list.h"

#include <algorithm>
#include <filesystem>
#include <set>

#include <QComboBox>
#include <QDateTime>
#include <QLabel>
#include <QListWidget>
#include <QLocale>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include "window/desk/theme.h"
#include "window/desk/words.h"

namespace loftbeat::window {

std::vector<ListedPractice> list_practices(const std::string& sessions) {
  std::vector<ListedPractice> listed;
  std::error_code why;
  if (!std::filesystem::exists(sessions, why)) return listed;
  const auto kept = app::kept_practices(sessions);
  if (!kept) {
    ListedPractice trouble;
    trouble.trouble = to_string(kept.error());
    listed.push_back(std::move(trouble));
    return listed;
  }
  for (const app::KeptPractice& one : *kept) {
    ListedPractice practice;
    practice.kept = one;
    if (auto label = app::label_of(one)) {
      practice.label = std::move(*label);
    } else {
      practice.trouble = to_string(label.error());
    }
    listed.push_back(std::move(practice));
  }
  return listed;
}

QString when_words(const std::string& when) {
  const QDateTime time = QDateTime::fromString(words(when), QStringLiteral("yyyy-MM-dd HH:mm"));
  if (!time.isValid()) return words(when);
  return QLocale().toString(time, QStringLiteral("ddd d MMM yyyy, HH:mm"));
}

QString manner_words(const practice::PracticeNote& note) {
  QStringList manners;
  if (!note.only.empty()) manners << PracticeList::tr("%1 only").arg(words(note.only));
  if (note.under_clicks()) manners << PracticeList::tr("with clicks");
  if (note.cold) manners << PracticeList::tr("first try of the day");
  if (note.singing > 0) manners << PracticeList::tr("%1 people sang along").arg(note.singing);
  return manners.join(QStringLiteral(", "));
}

PracticeList::PracticeList(QWidget* parent)
    : QWidget(parent), tunes_(new QComboBox), list_(new QListWidget), none_(new QLabel) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  auto* label = new QLabel(tr("&Tune"));
  label->setBuddy(tunes_);
  tunes_->setAccessibleName(tr("Tune"));
  tunes_->setMinimumHeight(kTarget);
  tunes_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  list_->setAccessibleName(tr("Practices, the newest first"));
  list_->setWordWrap(true);
  list_->setSpacing(2);
  list_->setResizeMode(QListView::Adjust);
  list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  none_->setWordWrap(true);
  none_->setText(
      tr("Nothing has been practised yet. Go to “At the keys”, play a hymn, and it "
         "will be here."));
  column->addWidget(label);
  column->addWidget(tunes_);
  column->addWidget(none_);
  column->addWidget(list_, 1);
  connect(tunes_, &QComboBox::currentIndexChanged, this, &PracticeList::fill_list);
  connect(list_, &QListWidget::currentRowChanged, this, &PracticeList::chosen);
  fill_tunes();
  fill_list();
}

void PracticeList::show_practices(std::vector<ListedPractice> practices) {
  const QString before = list_->currentItem() == nullptr
                             ? QString()
                             : list_->currentItem()->data(Qt::UserRole).toString();
  practices_ = std::move(practices);
  std::sort(
      practices_.begin(), practices_.end(),
      [](const ListedPractice& a, const ListedPractice& b) { return a.kept.name > b.kept.name; });
  const QSignalBlocker quiet_list(list_);
  const QSignalBlocker quiet_tunes(tunes_);
  fill_tunes();
  fill_list();
  for (int row = 0; row < list_->count(); ++row)
    if (!before.isEmpty() && list_->item(row)->data(Qt::UserRole).toString() == before)
      list_->setCurrentRow(row);
}

void PracticeList::fill_tunes() {
  const QString before = tunes_->currentData().toString();
  std::set<std::string> tunes;
  for (const ListedPractice& practice : practices_)
    if (practice.trouble.empty()) tunes.insert(practice.label.tune);
  tunes_->clear();
  tunes_->addItem(tr("All tunes"), QString());
  for (const std::string& tune : tunes) tunes_->addItem(words(tune), words(tune));
  tunes_->setCurrentIndex(std::max(0, tunes_->findData(before)));
}

void PracticeList::fill_list() {
  const QString tune = tunes_->currentData().toString();
  const QSignalBlocker quiet(list_);
  list_->clear();
  for (const ListedPractice& practice : practices_) {
    const bool read = practice.trouble.empty();
    if (!tune.isEmpty() && (!read || words(practice.label.tune) != tune)) continue;
    QString text =
        practice.kept.when.empty() ? QString() : when_words(practice.kept.when) + QLatin1Char('\n');
    text += read ? words(practice.label.tune) : tr("Cannot be read");
    const QString manner = manner_words(practice.label.note);
    if (!manner.isEmpty()) text += QStringLiteral("\n(%1)").arg(manner);
    auto* item = new QListWidgetItem(text, list_);
    item->setData(Qt::UserRole, words(practice.kept.folder.path));
    item->setData(Qt::AccessibleTextRole,
                  QString(text).replace(QLatin1Char('\n'), QStringLiteral(", ")));
  }
  none_->setVisible(practices_.empty());
  list_->setVisible(!practices_.empty());
}

void PracticeList::chosen(int row) {
  if (row >= 0) emit practice_chosen(list_->item(row)->data(Qt::UserRole).toString());
}

bool PracticeList::choose(const std::string& folder) {
  const auto row_of = [&] {
    for (int row = 0; row < list_->count(); ++row)
      if (list_->item(row)->data(Qt::UserRole).toString() == words(folder)) return row;
    return -1;
  };
  if (row_of() < 0) tunes_->setCurrentIndex(0);
  const int row = row_of();
  if (row < 0) return false;
  if (row == list_->currentRow()) {
    chosen(row);
  } else {
    list_->setCurrentRow(row);
  }
  return true;
}

}  // namespace loftbeat::window
