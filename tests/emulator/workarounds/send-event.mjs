// SEV sets the event that the next WFE consumes: without it a task woken by another task sleeps for ever.
export function sendEvent(chip) {
  const { info } = chip.logger;
  // The emulator decodes SEV and only logs it: its log line is the one place to catch it at no cost to other instructions.
  chip.logger.info = (name, message) => {
    if (message === 'SEV') chip.core.eventRegistered = true;
    info(name, message);
  };
}
