#include "window/prepare/prepare_place.h"

#include <utility>

#include <QComboBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QPageLayout>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QScrollArea>
#include <QSpinBox>
#include <QSplitter>
#include <QVBoxLayout>

#include "app/cards.h"
#include "base/file.h"
#include "report/print/card_pdf.h"
#include "report/report.h"
#include "window/desk/words.h"
#include "window/prepare/brightness_ladder.h"
#include "window/prepare/hymn_panel.h"
#include "window/prepare/pass_panel.h"
#include "window/prepare/suggestion_dialog.h"

namespace loftbeat::window {
namespace {

constexpr int kQuietDb = -20;

// Beside the settings, so that it is found again.
QString unsaved_file(Desk& desk) {
  return QFileInfo(desk.settings().fileName()).path() + QStringLiteral("/unsaved.plan.toml");
}

}  // namespace

PreparePlace::PreparePlace(Desk& desk, QWidget* parent)
    : Place(parent), desk_(desk), sketch_(unsaved_file(desk)) {
  auto* whole = new QVBoxLayout(this);
  whole->setContentsMargins(0, 0, 0, 0);
  hymn_ = new HymnPanel(desk_, sketch_);
  pass_ = new PassPanel(desk_, sketch_);
  auto* left = new QScrollArea;
  left->setWidgetResizable(true);
  left->setFrameShape(QFrame::NoFrame);
  left->setWidget(hymn_);
  left->setMinimumWidth(270);
  auto* thirds = new QSplitter;
  thirds->addWidget(left);
  thirds->addWidget(pass_);
  thirds->addWidget(right_side());
  thirds->setStretchFactor(0, 2);
  thirds->setStretchFactor(1, 4);
  thirds->setStretchFactor(2, 3);
  thirds->setChildrenCollapsible(false);
  whole->addWidget(thirds, 1);
  whole->addWidget(foot());
  connect(hymn_, &HymnPanel::hymn_chosen, this, &PreparePlace::choose);
  connect(pass_, &PassPanel::pass_chosen, ladder_, &BrightnessLadder::set_chosen);
  connect(pass_, &PassPanel::stop_looked_at, this, &PreparePlace::preview);
  connect(pass_, &PassPanel::looked_away, this, [this] { ladder_->set_preview({}); });
  connect(ladder_, &BrightnessLadder::rung_chosen, pass_, &PassPanel::choose_pass);
  connect(&sketch_, &PlanSketch::changed, this, &PreparePlace::judge_anew);
  connect(&desk_, &Desk::look_changed, this, [this] { ladder_->set_theme(desk_.theme()); });
  connect(&sounding_, &Sounding::troubled, this, &PreparePlace::tell);
  connect(&sounding_, &Sounding::began, this, [this] { hear_->setText(tr("&Silence")); });
  connect(&sounding_, &Sounding::ended, this, [this] { hear_->setText(tr("&Hear")); });
  connect(&suggesting_, &LongWork::began, this,
          [this] { suggest_->setText(tr("&Cancel the search")); });
  connect(&suggesting_, &LongWork::ended, this, [this] { suggest_->setText(tr("S&uggest …")); });
  if (!desk_.plan().isEmpty()) open(desk_.plan());
}

// Widgets that go lose the focus and would tell so.
PreparePlace::~PreparePlace() {
  pass_->disconnect();
  hymn_->disconnect();
  ladder_->disconnect();
}

QWidget* PreparePlace::right_side() {
  auto* side = new QWidget;
  auto* column = new QVBoxLayout(side);
  ladder_ = new BrightnessLadder;
  ladder_->set_theme(desk_.theme());
  all_findings_ = new QLabel;
  all_findings_->setWordWrap(true);
  all_findings_->setAlignment(Qt::AlignTop);
  all_findings_->setTextFormat(Qt::PlainText);
  all_findings_->setAccessibleName(tr("What the check says of the whole plan"));
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setWidget(all_findings_);
  column->addWidget(ladder_);
  column->addWidget(area, 1);
  return side;
}

QPushButton* PreparePlace::add_button(QWidget* row, const QString& text, const QString& meaning) {
  auto* button = new QPushButton(text);
  button->setAccessibleName(QString(text).remove(QLatin1Char('&')));
  button->setToolTip(meaning);
  button->setAccessibleDescription(meaning);
  row->layout()->addWidget(button);
  return button;
}

QWidget* PreparePlace::foot() {
  auto* whole = new QWidget;
  auto* column = new QVBoxLayout(whole);
  told_ = new QLabel;
  told_->setWordWrap(true);
  told_->setAccessibleName(tr("What happened"));
  column->addWidget(told_);
  auto* row = new QWidget;
  (new QHBoxLayout(row))->setContentsMargins(0, 0, 0, 0);
  auto* undo = add_button(row, tr("U&ndo"), tr("Ctrl+Z"));
  auto* redo = add_button(row, tr("&Redo"), tr("Ctrl+Shift+Z"));
  undo->setShortcut(QKeySequence::Undo);
  redo->setShortcut(QKeySequence::Redo);
  QUndoStack& steps = sketch_.steps();
  const auto take_undo = [undo, redo, &steps] {
    undo->setEnabled(steps.canUndo());
    redo->setEnabled(steps.canRedo());
    undo->setToolTip(tr("Undo: %1").arg(steps.undoText()));
    redo->setToolTip(tr("Redo: %1").arg(steps.redoText()));
  };
  connect(&steps, &QUndoStack::indexChanged, this, take_undo);
  connect(&sketch_, &PlanSketch::changed, this, take_undo);
  take_undo();
  connect(undo, &QPushButton::clicked, &steps, &QUndoStack::undo);
  connect(redo, &QPushButton::clicked, &steps, &QUndoStack::redo);
  auto* second = new QWidget;
  (new QHBoxLayout(second))->setContentsMargins(0, 0, 0, 0);
  suggest_ = add_button(row, tr("S&uggest …"), tr("Up to three ways to register this hymn."));
  connect(suggest_, &QPushButton::clicked, this, &PreparePlace::suggest);
  part_ = new QComboBox;
  part_->addItems(
      {tr("this pass"), tr("a line of it"), tr("the join before it"), tr("the whole hymn")});
  part_->setAccessibleName(tr("What to hear"));
  line_ = new QSpinBox;
  line_->setRange(1, 40);
  line_->setPrefix(tr("line "));
  line_->setAccessibleName(tr("Which line"));
  line_->setEnabled(false);
  connect(part_, &QComboBox::currentIndexChanged, line_,
          [this](int part) { line_->setEnabled(part == 1); });
  second->layout()->addWidget(part_);
  second->layout()->addWidget(line_);
  volume_ = new QSpinBox;
  volume_->setRange(-60, 0);
  volume_->setValue(kQuietDb);
  volume_->setSuffix(tr(" dB"));
  volume_->setAccessibleName(tr("Loudness; 0 is full"));
  second->layout()->addWidget(volume_);
  hear_ =
      add_button(second, tr("&Hear"), tr("Turn the volume low first, above all with headphones."));
  connect(hear_, &QPushButton::clicked, this, &PreparePlace::hear);
  auto* print = add_button(row, tr("Print the c&ard …"), tr("One page for the music desk."));
  connect(print, &QPushButton::clicked, this, &PreparePlace::print_card);
  auto* keep = add_button(row, tr("Card as a &file …"), tr("PDF, SVG or a page."));
  connect(keep, &QPushButton::clicked, this, &PreparePlace::ask_where_to_save_card);
  auto* save_now = add_button(row, tr("&Save"), tr("It is saved when you go elsewhere, too."));
  save_now->setShortcut(QKeySequence::Save);
  connect(save_now, &QPushButton::clicked, this, &PreparePlace::save);
  connect(&sketch_, &PlanSketch::changed, save_now,
          [this, save_now] { save_now->setEnabled(!sketch_.is_saved()); });
  connect(&steps, &QUndoStack::cleanChanged, save_now,
          [save_now](bool clean) { save_now->setEnabled(!clean); });
  column->addWidget(row);
  column->addWidget(second);
  return whole;
}

void PreparePlace::entered() { desk_.refresh(); }

void PreparePlace::closing() {
  sounding_.silence();
  judging_.cancel();
  suggesting_.cancel();
  save();
}

void PreparePlace::open(const QString& path) {
  if (const Status status = sketch_.open(path); !status) return tell(words(status.error()));
  tell(sketch_.recovered() ? tr("Changes that were not saved last time are here again. Undo takes "
                                "them away.")
                           : QString());
}

void PreparePlace::choose(const QString& path, bool is_plan) {
  if (is_plan && path.toStdString() == sketch_.plan().file) return;
  save();
  if (is_plan) {
    open(path);
    desk_.choose_plan(path);
    return;
  }
  const QFileInfo score(path);
  const QString plan =
      score.path() + QLatin1Char('/') + score.completeBaseName() + QStringLiteral(".plan.toml");
  if (QFileInfo::exists(plan))
    return tell(
        tr("%1 is there already and is not written over; choose it in the list.").arg(plan));
  sketch_.begin(plan, path.toStdString());
  save();
  desk_.choose_plan(plan);
  desk_.refresh();
}

void PreparePlace::judge_anew() {
  const plan::Plan plan = sketch_.plan();
  judging_.start([this, plan](WorkState&) -> LongWork::Finish {
    auto judged = std::make_shared<const Judgement>(judge(plan));
    return [this, judged] { take_judgement(judged); };
  });
}

void PreparePlace::take_judgement(const std::shared_ptr<const Judgement>& judgement) {
  judgement_ = judgement;
  pass_->set_judgement(judgement);
  ladder_->set_rungs(judgement->measures ? rungs_of(*judgement->measures) : std::vector<Rung>{});
  ladder_->set_chosen(pass_->pass());
  QStringList told;
  if (!judgement->trouble.empty()) told.push_back(words(judgement->trouble));
  if (judgement->checked && !judgement->measures)
    told.push_back(
        tr("Choose a church and an organ, and say how many people come: then it is "
           "reckoned how bright every verse is."));
  int faults = 0;
  for (const JudgedFinding& finding : judgement->findings) faults += finding.is_note ? 0 : 1;
  if (judgement->checked)
    told.push_back(faults == 0 ? tr("✓ Nothing stands against this plan.")
                   : faults == 1
                       ? tr("One thing stands against this plan:")
                       : tr("%1 things stand against this plan, the worst first:").arg(faults));
  for (const JudgedFinding& finding : judgement->findings)
    told.push_back((finding.is_note ? tr("Note: %1") : tr("⚠ %1")).arg(words(finding.sentence)));
  all_findings_->setText(told.join(QStringLiteral("\n\n")));
}

void PreparePlace::preview(std::size_t stop) {
  if (judgement_ && judgement_->measures)
    ladder_->set_preview(preview_of(*judgement_->measures, pass_->pass(), stop));
}

void PreparePlace::suggest() {
  if (suggesting_.runs()) return suggesting_.cancel();
  tell({});
  const plan::Plan plan = sketch_.plan();
  suggesting_.start([this, plan](WorkState&) -> LongWork::Finish {
    auto offer = std::make_shared<const Offer>(make_offer(plan));
    return [this, offer] { take_offer(*offer); };
  });
}

void PreparePlace::take_offer(const Offer& offer) {
  if (!offer.trouble.empty()) return tell(words(offer.trouble));
  auto* dialog = new SuggestionDialog(offer, this);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  const auto plans = offer.plans;
  connect(dialog, &QDialog::accepted, this, [this, dialog, plans] {
    const auto chosen = static_cast<std::size_t>(std::max(0, dialog->chosen()));
    if (chosen < plans.size())
      sketch_.change(tr("suggested registrations"),
                     [&](plan::Plan& plan) { plan = plans[chosen].plan; });
  });
  dialog->open();
}

void PreparePlace::hear() {
  if (sounding_.sounds()) return sounding_.silence();
  tell(tr("Turn the volume low first, above all with headphones."));
  const plan::Plan plan = sketch_.plan();
  const std::string pass = pass_->pass_label();
  const int line = line_->value();
  std::function<Result<Playable>()> make;
  switch (part_->currentIndex()) {
    case 0: make = [plan, pass] { return playable_of(plan, pass, 0); }; break;
    case 1: make = [plan, pass, line] { return playable_of(plan, pass, line); }; break;
    case 2: make = [plan, pass] { return playable_join(plan, pass); }; break;
    default: make = [plan] { return playable_of(plan, "", 0); }; break;
  }
  sounding_.play(std::move(make), volume_->value());
}

void PreparePlace::print_card() {
  if (!judgement_ || !judgement_->checked) return;
  QPrinter printer(QPrinter::HighResolution);
  printer.setPageSize(QPageSize(QPageSize::A5));
  printer.setFullPage(true);
  QPrintDialog dialog(&printer, this);
  if (dialog.exec() != QDialog::Accepted) return;
  const Status printed = report::print_cards(app::cards_of(*judgement_->checked).cards, printer);
  tell(printed ? tr("The card is being printed.") : words(printed.error()));
}

void PreparePlace::ask_where_to_save_card() {
  const QString path = QFileDialog::getSaveFileName(
      this, tr("Card"), words(desk_.parish().folder) + QStringLiteral("/card.pdf"),
      tr("PDF (*.pdf);;Picture (*.svg);;Page (*.html)"));
  if (!path.isEmpty()) save_card(path);
}

void PreparePlace::save_card(const QString& path) {
  if (!judgement_ || !judgement_->checked)
    return tell(tr("There is no card yet: the plan cannot be read as it stands."));
  const app::Cards cards = app::cards_of(*judgement_->checked);
  std::string bytes;
  if (path.endsWith(QLatin1String(".pdf"))) {
    auto pdf = report::cards_pdf(cards.cards, cards.title);
    if (!pdf) return tell(words(pdf.error()));
    bytes = std::move(*pdf);
  } else if (path.endsWith(QLatin1String(".svg"))) {
    bytes = report::card_svg(report::lay_out_card(cards.cards.front()).front(), cards.title);
  } else {
    bytes = report::cards_html(cards.cards, cards.title);
  }
  const Status status = write_file(path.toStdString(), bytes);
  tell(status ? tr("The card is in %1.").arg(path) : words(status.error()));
}

void PreparePlace::save() {
  if (!sketch_.is_open() || sketch_.is_saved()) return;
  if (const Status status = sketch_.save(); !status)
    return tell(words(status.error()) + QLatin1Char(' ') +
                tr("Your changes are kept and are here again next time."));
  desk_.plan_written();
}

void PreparePlace::tell(const QString& text) { told_->setText(text); }

}  // namespace loftbeat::window
