//! The jig's serial port over USB: bytes between the host and the session.

use embassy_futures::select::select3;
use embassy_rp::Peri;
use embassy_rp::peripherals::USB;
use embassy_rp::usb::Driver;
use embassy_usb::class::cdc_acm::{CdcAcmClass, Receiver, Sender, State};
use embassy_usb::{Builder, Config};
use runproof_protocol::usb;

use super::Interrupts;
use crate::session::Bytes;

const PACKET_BYTES: u16 = 64;

/// A full packet tells the host that more follows; one byte less never needs an empty one after it.
const SENT_BYTES: usize = PACKET_BYTES as usize - 1;

type Usb<'d> = Driver<'d, USB>;

/// Serves the port, for ever. Line coding and DTR change nothing: some hosts never set them.
pub(super) async fn serve(
    usb: Peri<'_, USB>,
    serial: &str,
    from_host: &Bytes,
    to_host: &Bytes,
) -> ! {
    let mut configuration_descriptor = [0; 128];
    let mut bos_descriptor = [0; 16];
    let mut control = [0; 64];
    let mut state = State::new();
    let mut builder = Builder::new(
        Driver::new(usb, Interrupts),
        config(serial),
        &mut configuration_descriptor,
        &mut bos_descriptor,
        &mut [],
        &mut control,
    );
    let (mut sender, mut receiver) =
        CdcAcmClass::new(&mut builder, &mut state, PACKET_BYTES).split();
    let mut device = builder.build();
    match select3(device.run(), receive(&mut receiver, from_host), send(&mut sender, to_host)).await {}
}

fn config(serial: &str) -> Config<'_> {
    let mut config = Config::new(usb::VENDOR, usb::PRODUCT);
    config.manufacturer = Some("runproof");
    config.product = Some(usb::PRODUCT_NAME);
    config.serial_number = Some(serial);
    config.composite_with_iads = true;
    config
}

/// Until the session has room, the host's next packet is answered with NAK.
async fn receive<'d>(port: &mut Receiver<'d, Usb<'d>>, from_host: &Bytes) -> ! {
    let mut packet = [0; PACKET_BYTES as usize];
    loop {
        port.wait_connection().await;
        while let Ok(used) = port.read_packet(&mut packet).await {
            from_host.write_all(&packet[..used]).await;
        }
    }
}

async fn send<'d>(port: &mut Sender<'d, Usb<'d>>, to_host: &Bytes) -> ! {
    let mut packet = [0; SENT_BYTES];
    loop {
        port.wait_connection().await;
        loop {
            let used = to_host.read(&mut packet).await;
            if port.write_packet(&packet[..used]).await.is_err() {
                break;
            }
        }
    }
}
