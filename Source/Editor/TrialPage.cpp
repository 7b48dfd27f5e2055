#include "Editor/TrialPage.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

namespace tarry
{
TrialPage::TrialPage(TrialTarget& target)
    : question("Question",
               {{"Which is X?", "X is one of the two at random: say which. Shows whether you hear a difference."},
                {"Which is better?", "A and B are the two at random: say which you prefer."}}),
      hear("Hear", {{"X", "Hear the unknown one."}, {"A", "Hear A."}, {"B", "Hear B."}})
{
    setTitle("Blind trial");
    const auto add = [this](juce::TextButton& button, const juce::String& text, const juce::String& help)
    {
        button.setButtonText(text);
        describe(button, button, text, help);
        addChildComponent(button);
    };
    add(start, "Start",
        "Starts a trial with both blends at the same loudness. Until its end nothing tells which is which.");
    add(stop, "Stop", "Ends the trial without a result.");
    add(copy, "Copy result", "Copies the result as text.");
    add(answerA, "X is A", "Answers A and goes on.");
    add(answerB, "X is B", "Answers B and goes on.");
    addChildComponent(question);
    addChildComponent(hear);
    question.choose(0);
    start.onClick = [this, &target] { target.start(question.chosen() == 1); };
    stop.onClick = [&target] { target.stop(); };
    copy.onClick = [this] { juce::SystemClipboard::copyTextToClipboard(juce::String::fromUTF8(trial.result.c_str())); };
    hear.onChange = [&target](int which) { target.hear(static_cast<TrialSound>(which)); };
    answerA.onClick = [&target] { target.answer(true); };
    answerB.onClick = [&target] { target.answer(false); };
    question.onChange = [this](int) { repaint(); };
}

void TrialPage::update(const EditorModel& model)
{
    trial = model.trial;
    question.setVisible(!trial.running);
    start.setVisible(!trial.running);
    start.setEnabled(trial.obstacle.empty());
    start.setButtonText(trial.finished ? "Again" : "Start");
    stop.setVisible(trial.running);
    copy.setVisible(trial.finished && !trial.running);
    hear.setVisible(trial.running);
    answerA.setVisible(trial.running);
    answerB.setVisible(trial.running);
    answerA.setButtonText(trial.preference ? "A is better" : "X is A");
    answerB.setButtonText(trial.preference ? "B is better" : "X is B");
    answerA.setTitle(answerA.getButtonText());
    answerB.setTitle(answerB.getButtonText());
    hear.choose(static_cast<int>(trial.hearing));
    repaint();
}

juce::String TrialPage::explanation() const
{
    if (trial.running)
        return juce::String(trial.answered + 1) + " of " + juce::String(trial.presentations) +
               (trial.preference ? ": which is better, A or B?" : ": is X the same as A or as B?");
    if (!trial.obstacle.empty()) return juce::String::fromUTF8(trial.obstacle.c_str());
    if (trial.finished) return juce::String::fromUTF8(trial.result.c_str());
    return "Does aligning make a difference here? " + juce::String(trial.presentations) +
           (question.chosen() == 1
                ? " pairs in random order, at the same loudness: which do you prefer? "
                : " times X is as recorded or aligned, at random, at the same loudness: which is it? ") +
           monitorCaution;
}

void TrialPage::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    g.setColour(trial.obstacle.empty() ? theme.ink : theme.caution);
    g.setFont(Look::font(trial.running ? 16.0F : 13.0F));
    g.drawFittedText(explanation(), getLocalBounds().withHeight(trial.running ? 40 : 96), juce::Justification::topLeft,
                     6, 1.0F);
    if (!trial.running) return;
    // One stroke for each presentation, filled when answered; nothing about right or wrong.
    const float step = static_cast<float>(getWidth()) / static_cast<float>(trial.presentations);
    for (int i = 0; i < trial.presentations; ++i)
    {
        const auto box = juce::Rectangle<float>(static_cast<float>(i) * step, 44.0F, step - 3.0F, 6.0F);
        g.setColour(i < trial.answered ? theme.ink : theme.dim);
        if (i < trial.answered)
            g.fillRect(box);
        else
            g.drawRect(box, 1.0F);
    }
}

void TrialPage::resized()
{
    auto area = getLocalBounds();
    hear.setBounds(area.withTop(66).withHeight(46));
    auto answers = area.withTop(122).withHeight(40);
    answerA.setBounds(answers.removeFromLeft(getWidth() / 2 - 1));
    answerB.setBounds(answers.withTrimmedLeft(2));
    stop.setBounds(area.withTop(192).withHeight(24).withWidth(80));
    question.setBounds(area.withTop(110).withHeight(30));
    start.setBounds(area.withTop(150).withHeight(34).withWidth(120));
    copy.setBounds(area.withTop(150).withHeight(34).withLeft(126).withWidth(120));
}
} // namespace tarry
