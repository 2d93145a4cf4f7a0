#include "window/look_back/look_back_place.h"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <utility>

#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QMessageBox>
#include <QPushButton>
#include <QSplitter>
#include <QStandardPaths>
#include <QTimer>
#include <QVBoxLayout>

#include "window/desk/words.h"
#include "window/look_back/compare_page.h"
#include "window/look_back/moment_pane.h"
#include "window/look_back/practice_list.h"
#include "window/look_back/review_view.h"
#include "window/look_back/weeks_page.h"
#include "window/look_back/work_bar.h"

namespace loftbeat::window {
namespace {

constexpr int kListWidth = 240;  // to begin with
const QString kSaveFolder = QStringLiteral("look-back/save-folder");

// Every practice of one tune, reviewed. What cannot be read is told.
struct TuneLooked {
  std::vector<practice::NotedPractice> noted;
  std::vector<std::string> left_out;
};

TuneLooked look_into_tune(const std::vector<ListedPractice>& all, const std::string& tune,
                          WorkState& state) {
  TuneLooked looked;
  for (std::size_t i = 0; i < all.size() && !state.cancelled(); ++i) {
    state.tell(static_cast<double>(i) / static_cast<double>(all.size()));
    const ListedPractice& one = all[i];
    if (!one.trouble.empty()) {
      looked.left_out.push_back(one.kept.name + ": " + one.trouble);
      continue;
    }
    if (one.label.tune != tune) continue;
    if (const auto reviewed = app::review_practice(one.kept)) {
      looked.noted.push_back(app::noted(*reviewed));
    } else {
      looked.left_out.push_back(one.kept.name + ": " + to_string(reviewed.error()));
    }
  }
  return looked;
}

}  // namespace

LookBackPlace::LookBackPlace(Desk& desk, QWidget* parent)
    : Place(parent),
      desk_(desk),
      list_(new PracticeList),
      views_(new ReviewView),
      compare_(new ComparePage),
      weeks_(new WeeksPage),
      moment_(new MomentPane),
      title_(make_heading({})),
      said_(make_words({})),
      save_(new QPushButton(tr("&Save…"))) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  auto* halves = new QSplitter;
  halves->setChildrenCollapsible(false);
  halves->addWidget(list_);
  halves->addWidget(right_side());
  halves->setStretchFactor(0, 1);
  halves->setStretchFactor(1, 4);
  halves->setSizes({kListWidth, 4 * kListWidth});
  row->addWidget(halves);
  connect(list_, &PracticeList::practice_chosen, this, &LookBackPlace::load);
  connect(views_, &ReviewView::moment_chosen, this, &LookBackPlace::show_moment);
  connect(views_, &QTabWidget::currentChanged, this, &LookBackPlace::page_changed);
  connect(moment_, &MomentPane::moment_chosen, this, &LookBackPlace::show_moment);
  connect(moment_, &MomentPane::hear_wanted, this, &LookBackPlace::hear);
  connect(moment_, &MomentPane::stop_wanted, this, [this] { hearing_.stop(); });
  connect(compare_, &ComparePage::other_wanted, this, &LookBackPlace::load_other);
  connect(weeks_, &WeeksPage::practice_opened, this, [this](const QString& name) {
    for (const ListedPractice& one : list_->practices())
      if (words(one.kept.name) == name) open(words(one.kept.folder.path));
  });
  connect(&hearing_, &Hearing::began, this, [this] { moment_->set_sounding(true); });
  connect(&hearing_, &Hearing::ended, this, [this] { moment_->set_sounding(false); });
  connect(&hearing_, &Hearing::reached, moment_, &MomentPane::follow);
  connect(&hearing_, &Hearing::said, this, [this](const QString& sentence) {
    moment_->say(sentence);
    emit told(sentence);
  });
  connect(&desk_, &Desk::look_changed, this, [this] { show_practice(practice_); });
  connect(&desk_, &Desk::practice_kept, this, &LookBackPlace::list_again);
  connect(&desk_, &Desk::parish_changed, this, &LookBackPlace::list_again);
  connect(&desk_, &Desk::look_back_wanted, this, &LookBackPlace::open);
  show_practice(nullptr);
}

// While the widgets go one after the other, nothing of what they tell may come here.
LookBackPlace::~LookBackPlace() {
  for (QWidget* widget : std::initializer_list<QWidget*>{list_, views_, compare_, weeks_, moment_})
    widget->disconnect(this);
}

QWidget* LookBackPlace::right_side() {
  auto* side = new QWidget;
  auto* column = new QVBoxLayout(side);
  column->setContentsMargins(0, 0, 0, 0);
  column->addWidget(head_row());
  column->addWidget(said_);
  said_->hide();
  said_->setAccessibleName(tr("What was said"));
  for (LongWork* work : {&loading_, &saving_, &weeks_work_, &hearing_.work()}) {
    bars_.push_back(new WorkBar(*work));
    column->addWidget(bars_.back());
  }
  bars_[0]->name_work(tr("Reading the practice"));
  bars_[1]->name_work(tr("Saving"));
  bars_[2]->name_work(tr("Looking through the practices"));
  bars_[3]->name_work(tr("Hearing the take"));
  views_->addTab(TallPage::in_area(compare_, tr("Compare")), tr("&Compare"));
  views_->addTab(TallPage::in_area(weeks_, tr("Over the weeks")), tr("&Over the weeks"));
  halves_ = new QSplitter(Qt::Vertical);
  halves_->setChildrenCollapsible(false);
  halves_->addWidget(views_);
  halves_->addWidget(moment_);
  halves_->setStretchFactor(0, 1);
  column->addWidget(halves_, 1);
  return side;
}

QWidget* LookBackPlace::head_row() {
  auto* head = new QWidget;
  auto* row = new QHBoxLayout(head);
  row->setContentsMargins(0, 0, 0, 0);
  title_->setAccessibleName(tr("Practice"));
  row->addWidget(title_, 1);
  auto* menu = new QMenu(save_);
  for (int kind = 0; kind < kSaveKinds; ++kind) {
    const auto as = static_cast<SaveAs>(kind);
    menu->addAction(save_name(as), this, [this, as] { ask_where_to_save(as); });
  }
  save_->setMenu(menu);
  save_->setMinimumHeight(kTarget);
  save_->setAccessibleName(tr("Save the practice"));
  row->addWidget(save_);
  return head;
}

void LookBackPlace::entered() { list_again(); }

void LookBackPlace::left() { hearing_.stop(); }

void LookBackPlace::closing() {
  hearing_.stop();
  for (LongWork* work : {&listing_, &loading_, &weeks_work_, &saving_}) work->cancel();
}

void LookBackPlace::list_again() {
  listing_.start([this, folder = desk_.parish().practices()](WorkState&) -> LongWork::Finish {
    auto practices = std::make_shared<std::vector<ListedPractice>>(list_practices(folder));
    return [this, practices] {
      list_->show_practices(std::move(*practices));
      compare_->show_practice(practice_, list_->practices(), desk_.theme());
      if (!wanted_.isEmpty()) {
        const QString wanted = std::exchange(wanted_, QString());
        if (!list_->choose(wanted.toStdString())) load(wanted);
      } else if (!practice_) {
        open_newest();
      }
    };
  });
}

void LookBackPlace::open_newest() {
  const auto& all = list_->practices();
  const auto newest = std::find_if(all.begin(), all.end(),
                                   [](const ListedPractice& one) { return one.trouble.empty(); });
  if (newest != all.end()) list_->choose(newest->kept.folder.path);
}

void LookBackPlace::open(const QString& folder) {
  wanted_ = folder;
  list_again();
}

void LookBackPlace::load(const QString& folder) {
  hearing_.stop();
  for (const ListedPractice& one : list_->practices())
    if (words(one.kept.folder.path) == folder && !one.trouble.empty()) {
      loading_.cancel();
      show_practice(nullptr);
      return tell(words(one.trouble));
    }
  app::KeptPractice kept;
  kept.folder.path = folder.toStdString();
  kept.name = std::filesystem::path(kept.folder.path).filename().string();
  kept.when = app::when_of(kept.name);
  loading_.start([this, kept](WorkState&) -> LongWork::Finish {
    auto reviewed = std::make_shared<Result<app::ReviewedPractice>>(app::review_practice(kept));
    return [this, reviewed] {
      tell({});
      if (!*reviewed) {
        show_practice(nullptr);
        return tell(words(reviewed->error()));
      }
      show_practice(std::make_shared<const app::ReviewedPractice>(std::move(**reviewed)));
      emit opened();
    };
  });
}

void LookBackPlace::show_practice(ShownPractice practice) {
  practice_ = std::move(practice);
  QString title = tr("No practice is chosen");
  if (practice_) {
    title = QStringLiteral("%1 · %2").arg(words(practice_->tune), when_words(practice_->kept.when));
    const QString manner = manner_words(practice_->note);
    if (!manner.isEmpty()) title += QStringLiteral(" (%1)").arg(manner);
  }
  title_->setText(title);
  save_->setEnabled(practice_ != nullptr);
  const Theme theme = desk_.theme();
  views_->show_practice(practice_, theme);
  moment_->show_practice(practice_, theme);
  compare_->show_practice(practice_, list_->practices(), theme);
  if (moment_->moment()) views_->point_at(*moment_->moment());
  page_changed(views_->currentIndex());
}

void LookBackPlace::show_moment(const Moment& moment) {
  const bool first = !moment_->moment();
  moment_->show_moment(moment);
  views_->point_at(moment);
  if (first) QTimer::singleShot(0, this, &LookBackPlace::give_room);  // once it is laid out
}

// The bar is to be seen whole; after that the line between is where it was drawn to.
void LookBackPlace::give_room() {
  const int wanted = moment_->sizeHint().height();
  if (moment_->height() < wanted) halves_->setSizes({halves_->height() - wanted, wanted});
}

void LookBackPlace::hear(double from_s) {
  if (!practice_) return;
  HearOrder order;
  order.plan_path = practice_->kept.folder.plan();
  order.take_path = practice_->kept.folder.take();
  order.from_s = from_s;
  order.stops = moment_->heard_stops().stops;
  order.couplers = moment_->heard_stops().couplers;
  hearing_.start(order);
}

void LookBackPlace::load_other(const QString& folder) {
  for (const ListedPractice& one : list_->practices()) {
    if (words(one.kept.folder.path) != folder) continue;
    loading_.start([this, kept = one.kept](WorkState&) -> LongWork::Finish {
      auto reviewed = std::make_shared<Result<app::ReviewedPractice>>(app::review_practice(kept));
      return [this, reviewed] {
        if (!*reviewed) return tell(words(reviewed->error()));
        compare_->show_other(std::make_shared<const app::ReviewedPractice>(std::move(**reviewed)));
      };
    });
  }
}

void LookBackPlace::page_changed(int index) {
  const QWidget* page = views_->widget(index);
  if (page != nullptr && page->isAncestorOf(weeks_)) load_weeks();
}

void LookBackPlace::load_weeks() {
  if (!practice_) return;
  weeks_work_.start([this, all = list_->practices(),
                     tune = practice_->tune](WorkState& state) -> LongWork::Finish {
    auto looked = std::make_shared<TuneLooked>(look_into_tune(all, tune, state));
    return [this, looked, tune] {
      weeks_->show_histories(practice::histories_of(std::move(looked->noted)), tune,
                             looked->left_out, desk_.theme());
    };
  });
}

void LookBackPlace::ask_where_to_save(SaveAs kind) {
  if (!practice_) return;
  const QString usual = QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
  const QString folder = desk_.settings().value(kSaveFolder, usual).toString();
  const QString name = folder + QLatin1Char('/') + words(practice_->kept.name) + save_ending(kind);
  // The question whether to replace a file is asked once, in save().
  QString path = QFileDialog::getSaveFileName(this, save_name(kind), name,
                                              QStringLiteral("*") + save_ending(kind), nullptr,
                                              QFileDialog::DontConfirmOverwrite);
  if (path.isEmpty()) return;
  if (QFileInfo(path).suffix().isEmpty()) path += save_ending(kind);
  desk_.settings().setValue(kSaveFolder, QFileInfo(path).absolutePath());
  save(kind, path);
}

void LookBackPlace::save(SaveAs kind, const QString& path) {
  if (!practice_) return;
  if (QFileInfo::exists(path)) {
    QMessageBox box(QMessageBox::Question, tr("Save"),
                    tr("There is a file called %1 already. Replace it?").arg(path),
                    QMessageBox::NoButton, this);
    const auto* replace = box.addButton(tr("Replace"), QMessageBox::AcceptRole);
    auto* keep = box.addButton(tr("Keep it"), QMessageBox::RejectRole);
    box.setDefaultButton(keep);
    box.setEscapeButton(keep);
    box.exec();
    if (box.clickedButton() != replace) return tell(tr("Nothing was saved."));
  }
  HearOrder hear;
  hear.stops = moment_->heard_stops().stops;
  hear.couplers = moment_->heard_stops().couplers;
  saving_.start(
      [this, practice = practice_, kind, path, hear](WorkState& state) -> LongWork::Finish {
        const Status status = save_practice(*practice, kind, path.toStdString(), hear, state);
        const QString sentence = status ? tr("Saved: %1").arg(path) : words(status.error());
        const bool done = status.ok();
        return [this, sentence, path, done] {
          tell(sentence);
          if (done) emit saved(path);
        };
      });
}

void LookBackPlace::tell(const QString& sentence) {
  said_->setText(sentence);
  said_->setVisible(!sentence.isEmpty());
  if (!sentence.isEmpty()) emit told(sentence);
}

}  // namespace loftbeat::window
